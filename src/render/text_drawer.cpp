#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"
#include "render/page.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_own_columns = 2;  // more leave the notes no room
constexpr int widest_drawer_heading = 16;

std::string in_one_line(std::string text) {
  for (char& c : text) {
    if (c == '\n' || c == '\r' || c == '\t') c = ' ';
  }
  return text;
}

std::string heading_of(const std::string& column) {
  std::string text;
  for (const std::string& piece : wrapped(printable(in_one_line(column)), widest_drawer_heading)) {
    text += (text.empty() ? "" : "\n") + piece;
  }
  return text;
}

Table listing(const Drawer& drawer, const std::vector<std::string>& own, bool notes) {
  std::vector<Table::Column> columns{
      {"candidate", Table::Align::left, true}, {"pieces"}, {"since", Table::Align::left}};
  for (const std::string& name : own) columns.push_back({heading_of(name), Table::Align::left, true});
  if (notes) columns.push_back({"note", Table::Align::left, true});
  Table table(columns);
  for (const DrawerEntry& entry : drawer.entries) {
    std::vector<std::string> cells{in_one_line(entry.candidate), fmt::format("{}", entry.pieces),
                                   entry.since ? date_text(*entry.since) : "-"};
    for (std::size_t i = 0; i < own.size(); ++i)
      cells.push_back(i < entry.own.size() ? in_one_line(entry.own[i]) : "");
    if (notes) cells.push_back(in_one_line(entry.note));
    table.add_row(cells);
  }
  return table;
}

std::string contents(const Drawer& drawer) {
  if (drawer.entries.empty()) return "the drawer is empty.";
  std::set<std::string> names;
  long long total = 0;
  for (const DrawerEntry& entry : drawer.entries) {
    names.insert(entry.candidate);
    total += entry.pieces;
  }
  return fmt::format("{} under {}.", count_text(total, "piece", "pieces"),
                     count_text(static_cast<long long>(names.size()), "name", "names"));
}

}  // namespace

std::string drawer_text(const Drawer& drawer, const TextStyle& style) {
  Page page(style);
  page.paragraph(fmt::format("{}: {}", drawer.source_name, contents(drawer)), true);
  if (drawer.entries.empty()) return page.text();
  page.empty_line();

  std::vector<std::string> own = own_columns(drawer);
  std::string left_out;
  for (std::size_t i = most_own_columns; i < own.size(); ++i)
    left_out += (left_out.empty() ? "" : ", ") + in_one_line(own[i]);
  if (own.size() > most_own_columns) own.resize(most_own_columns);
  const bool notes = std::any_of(drawer.entries.begin(), drawer.entries.end(),
                                 [](const DrawerEntry& entry) { return !entry.note.empty(); });
  page.table(listing(drawer, own, notes));
  if (!left_out.empty()) page.paragraph(fmt::format("Columns not shown: {}.", left_out), false, 2);
  return page.text();
}

}  // namespace mendworth
