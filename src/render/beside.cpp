#include "render/beside.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace mendworth {

namespace {

std::string change_text(const Change& change) {
  const std::string to = change.to.empty() ? "as the what-if says" : change.to;
  return change.from.empty() ? fmt::format("{} = {}", change.key, to)
                             : fmt::format("{}: {} -> {}", change.key, change.from, to);
}

}  // namespace

Section beside_section(std::vector<Table::Column> columns, const std::vector<BesideLine>& lines,
                       bool starred) {
  Section section{"Side by side", {}, {}, beside_name};
  if (lines.size() < 2) return section;
  Table table{.columns = std::move(columns), .name = beside_name};
  table.columns.insert(table.columns.begin(), {"case", false});
  bool differs = false;
  std::vector<std::string> changed;
  for (const BesideLine& line : lines) {
    std::vector<std::string> cells{line.name};
    for (std::size_t i = 0; i < line.cells.size(); ++i) {
      const bool star = starred && line.cells[i] != lines[line.against].cells[i];
      differs = differs || star;
      cells.push_back((star ? "*" : "") + line.cells[i]);
    }
    table.add(std::move(cells));
    std::vector<std::string> changes;
    for (const Change& change : line.changes) changes.push_back(change_text(change));
    if (!changes.empty()) changed.push_back(fmt::format("{}: {}.", line.name, fmt::join(changes, "; ")));
  }
  section.add(std::move(table));
  if (differs) section.say("* otherwise than in the first; all meet the same luck.");
  section.list(std::move(changed), true);
  return section;
}

std::string ordered_words(const std::vector<OrderLine>& lines) {
  std::vector<std::string> words;
  for (const OrderLine& line : lines)
    words.push_back(fmt::format("{} x {} from {}", line.quantity, line.candidate, line.supplier));
  return words.empty() ? "nothing" : fmt::format("{}", fmt::join(words, ", "));
}

}  // namespace mendworth
