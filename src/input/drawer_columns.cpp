#include "input/drawer_columns.hpp"

#include "input/csv_reading.hpp"

namespace mendworth::input {

DrawerColumn drawer_column(std::string_view name) {
  const std::string lower = lower_case(trimmed(name));
  for (const DrawerColumn column :
       {DrawerColumn::candidate, DrawerColumn::pieces, DrawerColumn::since, DrawerColumn::note}) {
    if (lower == name_of(column)) return column;
  }
  return DrawerColumn::own;
}

const char* name_of(DrawerColumn column) noexcept {
  switch (column) {
    case DrawerColumn::candidate: return "candidate";
    case DrawerColumn::pieces: return "pieces";
    case DrawerColumn::since: return "since";
    case DrawerColumn::note: return "note";
    case DrawerColumn::own: break;
  }
  return "";
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::string pieces_text(long long count) {
  return std::to_string(count) + (count == 1 ? " piece" : " pieces");
}

}  // namespace mendworth::input
