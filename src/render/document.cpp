#include "render/document.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "render/layout.hpp"

namespace mendworth {

void Facts::add(const std::string& label, const std::vector<std::string>& lines) {
  const bool says_something =
      std::ranges::any_of(lines, [](const std::string& line) { return !line.empty(); });
  if (says_something) facts.push_back({label, lines});
}

void Facts::add(const std::string& label, const std::string& line) { add(label, std::vector{line}); }

void Table::add(std::vector<std::string> cells, Role role, const std::string& mark) {
  if (cells.size() != columns.size()) throw std::invalid_argument("a row needs one cell for each column");
  rows.push_back({std::move(cells), role, mark});
}

bool Table::has_marks() const {
  return std::ranges::any_of(rows, [](const Row& row) { return !row.mark.empty(); });
}

void Section::say(const std::string& text, bool strong) { blocks.emplace_back(Paragraph{text, strong}); }

void Section::list(std::vector<std::string> items, bool spare) {
  if (!items.empty()) blocks.emplace_back(List{std::move(items), spare});
}

void Section::add(Table table) {
  if (!table.rows.empty()) blocks.emplace_back(std::move(table));
}

void Section::add(Chart chart) {
  if (!chart.empty()) blocks.emplace_back(std::move(chart));
}

std::string one_line(const std::string& text) {
  std::string out;
  bool space_before = true;
  for (char c : text) {
    if (c == '\n' || c == '\r' || c == '\t') c = ' ';
    if (c == ' ' && space_before) continue;
    space_before = c == ' ';
    out += c;
  }
  if (out.ends_with(' ')) out.pop_back();
  return printable(out);
}

}  // namespace mendworth
