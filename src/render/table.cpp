#include "render/table.hpp"

#include <algorithm>
#include <cstddef>
#include <stdexcept>
#include <utility>

#include "render/layout.hpp"

namespace mendworth {

namespace {

constexpr int least_wrapping_width = 10;

std::vector<std::string> split_lines(const std::string& text) {
  std::vector<std::string> lines(1);
  for (const char c : text) {
    if (c == '\n') {
      lines.emplace_back();
    } else {
      lines.back() += c;
    }
  }
  return lines;
}

int widest(const std::vector<std::string>& lines) {
  int width = 0;
  for (const std::string& line : lines) width = std::max(width, display_width(line));
  return width;
}

// One row of cells, each already broken into lines, joined side by side.
void append_row(std::vector<Table::Line>& out, const std::vector<std::vector<std::string>>& cells,
                const std::vector<Table::Column>& columns, const std::vector<int>& widths, int gap,
                bool at_bottom, bool strong) {
  std::size_t height = 0;
  for (const auto& cell : cells) height = std::max(height, cell.size());
  for (std::size_t row = 0; row < height; ++row) {
    std::string text;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::size_t skipped = at_bottom ? height - cells[i].size() : 0;
      const bool present = row >= skipped && row - skipped < cells[i].size();
      const std::string piece = present ? cells[i][row - skipped] : std::string();
      if (i > 0) text.append(static_cast<std::size_t>(gap), ' ');
      text += columns[i].align == Table::Align::left ? padded_right(piece, widths[i])
                                                     : padded_left(piece, widths[i]);
    }
    text.erase(text.find_last_not_of(' ') + 1);
    out.push_back({text, strong});
  }
}

int total(const std::vector<int>& widths, int gap) {
  int sum = gap * (static_cast<int>(widths.size()) - 1);
  for (const int width : widths) sum += width;
  return sum;
}

}  // namespace

Table::Table(std::vector<Column> columns) : columns_(std::move(columns)) {}

void Table::add_row(std::vector<std::string> cells, bool strong) {
  if (cells.size() != columns_.size()) throw std::invalid_argument("a row needs one cell for each column");
  for (std::string& cell : cells) cell = printable(cell);
  rows_.push_back({std::move(cells), strong});
}

std::vector<Table::Line> Table::lines(int width) const {
  std::vector<int> widths;
  std::vector<std::vector<std::string>> heading;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    heading.push_back(split_lines(columns_[i].heading));
    int natural = widest(heading[i]);
    for (const Row& row : rows_) {
      if (!row.cells.empty()) natural = std::max(natural, display_width(row.cells[i]));
    }
    widths.push_back(natural);
  }

  int gap = 2;
  const auto shrink_widest = [&] {
    int* chosen = nullptr;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const int floor = std::max(least_wrapping_width, widest(heading[i]));
      if (columns_[i].wraps && widths[i] > floor && (chosen == nullptr || widths[i] > *chosen))
        chosen = &widths[i];
    }
    if (chosen == nullptr) return false;
    --*chosen;
    return true;
  };
  while (total(widths, gap) > width) {
    if (shrink_widest()) continue;
    if (gap == 1) break;
    gap = 1;
  }

  std::vector<Line> out;
  append_row(out, heading, columns_, widths, gap, true, true);
  const Line rule{std::string(static_cast<std::size_t>(std::max(0, total(widths, gap))), '-'), false};
  out.push_back(rule);
  for (const Row& row : rows_) {
    if (row.cells.empty()) {
      out.push_back(rule);
      continue;
    }
    std::vector<std::vector<std::string>> cells;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      cells.push_back(columns_[i].wraps ? wrapped(row.cells[i], widths[i])
                                        : std::vector<std::string>{row.cells[i]});
    }
    append_row(out, cells, columns_, widths, gap, false, row.strong);
  }
  return out;
}

}  // namespace mendworth
