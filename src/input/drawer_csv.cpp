#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv_cell.hpp"
#include "input/day_text.hpp"
#include "input/drawer_columns.hpp"
#include "mendworth/drawer.hpp"

namespace mendworth {

namespace {

using input::DrawerColumn;

bool needs_quotes(std::string_view field, char separator) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t'; };
  if (!field.empty() && (is_blank(field.front()) || is_blank(field.back()))) return true;
  return field.find_first_of("\"\r\n") != std::string_view::npos ||
         field.find(separator) != std::string_view::npos;
}

std::string quoted(std::string_view field) {
  std::string out = "\"";
  for (const char c : field) out.append(c == '"' ? 2U : 1U, c);
  return out + '"';
}

/// Writes rows of one format.
class Writer {
 public:
  explicit Writer(const DrawerFormat& format) : format_(format) {
    if (format.byte_order_mark) text_ = "\xEF\xBB\xBF";
  }

  void field(std::string_view field) {
    if (inside_row_) text_ += format_.separator;
    inside_row_ = true;
    if (needs_quotes(field, format_.separator)) {
      text_ += quoted(field);
    } else {
      text_ += field;
    }
  }
  void end_row() {
    text_ += format_.crlf ? "\r\n" : "\n";
    inside_row_ = false;
  }
  [[nodiscard]] const std::string& text() const noexcept { return text_; }

 private:
  const DrawerFormat& format_;
  std::string text_;
  bool inside_row_ = false;
};

bool has_column(const std::vector<std::string>& columns, DrawerColumn wanted) {
  return std::ranges::any_of(columns,
                             [&](const std::string& name) { return input::drawer_column(name) == wanted; });
}

std::vector<std::string> columns_of(const Drawer& drawer) {
  const auto& entries = drawer.entries;
  const bool dated = std::ranges::any_of(entries, [](const DrawerEntry& e) { return e.since.has_value(); });
  const bool noted = std::ranges::any_of(entries, [](const DrawerEntry& e) { return !e.note.empty(); });
  std::vector<std::string> columns = drawer.format.columns;
  const auto require = [&](DrawerColumn column, bool used) {
    if (used && !has_column(columns, column)) columns.emplace_back(input::name_of(column));
  };
  require(DrawerColumn::candidate, true);
  require(DrawerColumn::pieces, true);
  require(DrawerColumn::since, dated);
  require(DrawerColumn::note, noted);
  return columns;
}

void write_entry(Writer& writer, const DrawerEntry& entry, const std::vector<DrawerColumn>& roles) {
  std::size_t own = 0;
  for (const DrawerColumn role : roles) {
    switch (role) {
      case DrawerColumn::candidate: writer.field(defused(entry.candidate)); break;
      case DrawerColumn::pieces: writer.field(std::to_string(entry.pieces)); break;
      case DrawerColumn::since: writer.field(entry.since ? input::day_text(*entry.since) : ""); break;
      case DrawerColumn::note: writer.field(defused(entry.note)); break;
      case DrawerColumn::own:
        writer.field(own < entry.own.size() ? entry.own[own] : std::string());
        ++own;
        break;
    }
  }
  writer.end_row();
}

}  // namespace

std::string drawer_csv(const Drawer& drawer) {
  Writer writer(drawer.format);
  std::vector<DrawerColumn> roles;
  for (const std::string& name : columns_of(drawer)) {
    writer.field(name);
    roles.push_back(input::drawer_column(name));
  }
  writer.end_row();
  for (const DrawerEntry& entry : drawer.entries) write_entry(writer, entry, roles);
  return writer.text();
}

}  // namespace mendworth
