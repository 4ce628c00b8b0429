#include <string>
#include <string_view>
#include <utility>

#include "base/csv_cell.hpp"
#include "input/csv_reader.hpp"
#include "input/csv_reading.hpp"
#include "input/drawer_columns.hpp"
#include "input/reading.hpp"
#include "mendworth/drawer.hpp"

namespace mendworth {

namespace {

using input::CsvRow;
using input::DrawerColumn;

// In the order of DrawerColumn.
constexpr input::CsvColumn drawer_table[] = {
    {"candidate", "this column is missing: each row names what lies there as a case does"},
    {"pieces", "this column is missing: each row says how many there are"},
    {"since"},
    {"note"}};

/// Of the first row; line ends within quotes are no line's end.
bool ends_in_crlf(std::string_view csv) {
  bool quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    if (csv[i] == '"') quoted = !quoted;
    if (!quoted && (csv[i] == '\n' || csv[i] == '\r')) return csv.substr(i).starts_with("\r\n");
  }
  return false;
}

DrawerEntry entry_of(input::CsvReader& table, const CsvRow& row) {
  const auto number = [](DrawerColumn column) { return static_cast<std::size_t>(column); };
  const std::size_t candidate = number(DrawerColumn::candidate), since = number(DrawerColumn::since);
  DrawerEntry entry;
  entry.candidate = as_named(table.field(row, candidate));
  if (entry.candidate.empty())
    table.add(row, candidate, "the name is missing", "name it as a case does, for instance button 6x6");
  entry.pieces = table.whole_number(row, number(DrawerColumn::pieces), most_drawer_pieces);
  if (!table.field(row, since).empty())
    entry.since = table.day(row, since, "leave it empty if the day is not known");
  if (const auto note = table.at(number(DrawerColumn::note))) entry.note = as_named(row.fields[*note]);
  return entry;
}

}  // namespace

Drawer read_drawer(std::string_view csv, const std::string& source_name) {
  return input::read_as(input::FileKind::drawer, csv, source_name, [&] {
    const std::string_view text = input::checked_csv(csv, source_name);
    const auto known = [](const CsvRow& header) { return known_columns(header, drawer_table); };
    Drawer drawer;
    drawer.source_name = source_name;
    drawer.format = {.separator = input::separator_of_header(text, ",;\t", known),
                     .columns = {},
                     .byte_order_mark = text.size() < csv.size(),
                     .crlf = ends_in_crlf(text)};
    input::CsvReader table(source_name, drawer.format.separator, drawer_table);
    table.read(text, [&](const CsvRow& row) {
      drawer.entries.push_back(entry_of(table, row));
      for (std::size_t i = 0; i < row.fields.size(); ++i) {
        if (input::drawer_column(table.headings()[i]) == DrawerColumn::own)
          drawer.entries.back().own.emplace_back(row.fields[i]);
      }
    });
    table.finish("candidate,pieces,since,note", false);
    drawer.format.columns = table.headings();
    return drawer;
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
