#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>

#include "base/csv_cell.hpp"
#include "input/csv_reading.hpp"
#include "input/csv_table.hpp"
#include "input/day_text.hpp"
#include "input/drawer_columns.hpp"
#include "input/problems.hpp"
#include "input/reading.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/drawer.hpp"

namespace mendworth {

namespace {

using input::CsvRow;
using input::DrawerColumn;
using input::name_of;
using input::printable;
using input::Problems;

constexpr std::size_t longest_misspelt = 20;

std::size_t known_columns(const CsvRow& header) {
  return static_cast<std::size_t>(
      std::count_if(header.fields.begin(), header.fields.end(),
                    [](std::string_view name) { return input::drawer_column(name) != DrawerColumn::own; }));
}

/// Of the first row; line ends within quotes are no line's end.
bool ends_in_crlf(std::string_view csv) {
  bool quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    if (csv[i] == '"') quoted = !quoted;
    if (!quoted && (csv[i] == '\n' || csv[i] == '\r')) return csv.substr(i).starts_with("\r\n");
  }
  return false;
}

/// Turns the rows of one file into a drawer, row by row.
class DrawerReader {
 public:
  DrawerReader(const std::string& source_name, DrawerFormat format)
      : problems_(source_name, input::most_reported_of_csv) {
    drawer_.source_name = source_name;
    drawer_.format = std::move(format);
  }

  /// False: without a good header the rows mean nothing.
  bool take(const CsvRow& row) {
    if (header_done_) {
      read_row(row);
      return true;
    }
    header_done_ = true;
    read_header(row);
    return problems_.count() == 0;
  }

  bool refuse(int line, const std::string& message) {
    problems_.add({line, 0, false}, "", message);
    return std::exchange(header_done_, true);
  }

  Drawer finished() {
    if (!header_done_) {
      problems_.add({}, "", "the file is empty",
                    "the first row names the columns: candidate,pieces,since,note");
    }
    problems_.throw_if_any();
    return std::move(drawer_);
  }

 private:
  [[nodiscard]] input::Place place(const CsvRow& row, std::size_t field) const {
    return input::place_of_field(row, drawer_.format.separator, field);
  }

  void read_header(const CsvRow& header) {
    if (header.field_count > input::most_csv_fields) {
      problems_.add(
          {header.line, 0, false}, "",
          fmt::format("{} columns; at most {} are read", header.field_count, input::most_csv_fields));
      return;
    }
    std::array<bool, 4> there{};
    std::vector<std::string>& columns = drawer_.format.columns;
    columns.assign(header.fields.begin(), header.fields.end());
    for (std::size_t i = 0; i < columns.size(); ++i) {
      roles_.push_back(input::drawer_column(columns[i]));
      if (roles_.back() == DrawerColumn::own) continue;
      bool& seen = there.at(static_cast<std::size_t>(roles_.back()));
      if (seen) {
        problems_.add(place(header, i), name_of(roles_.back()), "this column stands there twice",
                      "keep one, or give the other one another name");
      }
      seen = true;
    }
    for (const DrawerColumn wanted : {DrawerColumn::candidate, DrawerColumn::pieces}) {
      if (!there.at(static_cast<std::size_t>(wanted))) say_missing(header, wanted);
    }
    for (const DrawerColumn wanted : {DrawerColumn::since, DrawerColumn::note}) {
      if (!there.at(static_cast<std::size_t>(wanted))) find_misspelt(header, wanted);
    }
  }

  void say_missing(const CsvRow& header, DrawerColumn wanted) {
    std::vector<std::string> others;
    for (std::size_t i = 0; i < roles_.size(); ++i) {
      if (roles_[i] == DrawerColumn::own) others.push_back(drawer_.format.columns[i]);
    }
    const auto meant = input::nearest(name_of(wanted), others);
    problems_.add({header.line, 0, false}, name_of(wanted),
                  wanted == DrawerColumn::candidate
                      ? "this column is missing: each row names what lies there as a case does"
                      : "this column is missing: each row says how many there are",
                  meant ? fmt::format("is '{}' meant to be it?", printable(*meant)) : "");
  }

  /// A column that is left alone because of one wrong letter would lose its meaning without a word.
  void find_misspelt(const CsvRow& header, DrawerColumn wanted) {
    for (std::size_t i = 0; i < roles_.size(); ++i) {
      const std::string& name = drawer_.format.columns[i];
      if (roles_[i] != DrawerColumn::own || name.size() > longest_misspelt) continue;
      if (input::edit_distance(name, name_of(wanted)) > 1) continue;
      problems_.add(place(header, i), printable(name),
                    fmt::format("this column is nearly '{}'", name_of(wanted)),
                    fmt::format("name it '{}', or else something less like it", name_of(wanted)));
    }
  }

  void read_row(const CsvRow& row) {
    if (row.field_count != roles_.size()) {
      problems_.add({row.line, 0, false}, "", input::wrong_field_count(row.field_count, roles_.size()),
                    row.field_count > roles_.size() ? "a field with the separator in it is quoted" : "");
      return;
    }
    const bool blank = std::all_of(row.fields.begin(), row.fields.end(),
                                   [](std::string_view field) { return input::trimmed(field).empty(); });
    if (blank) return;  // spreadsheets leave such rows
    DrawerEntry entry;
    for (std::size_t i = 0; i < roles_.size(); ++i) read_field(row, i, entry);
    drawer_.entries.push_back(std::move(entry));
  }

  void read_field(const CsvRow& row, std::size_t i, DrawerEntry& entry) {
    const std::string_view field = row.fields[i];
    switch (roles_[i]) {
      case DrawerColumn::candidate:
        entry.candidate = as_named(input::trimmed(field));
        if (entry.candidate.empty()) {
          problems_.add(place(row, i), "candidate", "the name is missing",
                        "name it as a case does, for instance button 6x6");
        }
        break;
      case DrawerColumn::pieces: read_pieces(row, i, entry.pieces); break;
      case DrawerColumn::since: read_since(row, i, entry.since); break;
      case DrawerColumn::note: entry.note = as_named(field); break;
      case DrawerColumn::own: entry.own.emplace_back(field); break;
    }
  }

  void read_pieces(const CsvRow& row, std::size_t i, int& pieces) {
    const std::string_view field = input::trimmed(row.fields[i]);
    const auto [end, error] = std::from_chars(field.data(), field.data() + field.size(), pieces);
    const bool whole = end == field.data() + field.size() && error != std::errc::invalid_argument;
    if (whole && error == std::errc() && pieces >= 0 && pieces <= most_drawer_pieces) return;
    const std::string allowed = fmt::format("allowed is a whole number from 0 to {}", most_drawer_pieces);
    problems_.add(place(row, i), "pieces",
                  field.empty() ? fmt::format("the number is missing; {}", allowed)
                                : fmt::format("found '{}', {}", printable(field), allowed));
  }

  void read_since(const CsvRow& row, std::size_t i, std::optional<Date>& since) {
    const std::string_view field = input::trimmed(row.fields[i]);
    if (field.empty()) return;
    since = input::day_of(field);
    if (since) return;
    problems_.add(place(row, i), "since",
                  fmt::format("found '{}', allowed is a day that exists, as YYYY-MM-DD", printable(field)),
                  "leave it empty if the day is not known");
  }

  Problems problems_;
  Drawer drawer_;
  std::vector<DrawerColumn> roles_;  // of the columns
  bool header_done_ = false;
};

}  // namespace

Drawer read_drawer(std::string_view csv, const std::string& source_name) {
  return input::read_as(input::FileKind::drawer, csv, source_name, [&] {
    const std::string_view text = input::checked_csv(csv, source_name);
    const char separator = input::separator_of_header(text, ",;\t", known_columns);
    DrawerReader reader(source_name, {.separator = separator,
                                      .columns = {},
                                      .byte_order_mark = text.size() < csv.size(),
                                      .crlf = ends_in_crlf(text)});
    const input::CsvHandler handler{
        [&](const CsvRow& row) { return reader.take(row); },
        [&](int line, const std::string& message) { return reader.refuse(line, message); }};
    input::read_csv(text, separator, handler);
    return reader.finished();
  });
}

std::vector<std::string> own_columns(const Drawer& drawer) {
  std::vector<std::string> names;
  for (const std::string& name : drawer.format.columns) {
    if (input::drawer_column(name) == DrawerColumn::own) names.push_back(name);
  }
  return names;
}

}  // namespace mendworth
