#include <algorithm>
#include <cstddef>
#include <numeric>
#include <string>
#include <string_view>
#include <vector>

#include "render/document.hpp"
#include "render/layout.hpp"

// A table in columns of a terminal.
namespace mendworth {

namespace {

constexpr int least_heading = 8, widest_heading = 20;
constexpr int longest_kept_word = 24;

int longest_word(std::string_view text) {
  int longest = 0;
  while (!text.empty()) {
    const std::string_view word = text.substr(0, text.find(' '));
    longest = std::max(longest, display_width(word));
    text.remove_prefix(std::min(word.size() + 1, text.size()));
  }
  return longest;
}

// A text that ends in letters written from right to left would draw the numbers beside it into its own direction.
std::string cell_text(const std::string& text) {
  constexpr const char* left_to_right_mark = "\u200E";
  const std::string line = one_line(text);
  return ends_right_to_left(line) ? line + left_to_right_mark : line;
}

struct TextColumn {
  std::vector<std::string> heading{}, cells{};
  bool right = false, wraps = false;
  int width = 0, least = 0;

  TextColumn(const std::string& title, std::vector<std::string> texts, const Table::Column& kind)
      : cells(std::move(texts)), right(kind.number), wraps(!kind.number && !kind.copied) {
    int words = 0;
    for (const std::string& cell : cells) {
      width = std::max(width, display_width(cell));
      words = std::max(words, longest_word(cell));
    }
    const std::string line = one_line(title);
    const int room = std::max(
        {wraps ? widest_heading : width, least_heading, std::min(longest_word(line), widest_heading)});
    heading = wrapped(line, room);
    int title_width = 0;
    for (const std::string& piece : heading) title_width = std::max(title_width, display_width(piece));
    width = std::max(width, title_width);
    const int words_in_all =
        std::max(std::min(words, longest_kept_word), std::min(longest_word(line), widest_heading));
    least = wraps ? std::max(words_in_all, std::min(width, least_heading)) : width;
  }
  void narrow() {
    --width;
    std::string title;
    for (const std::string& piece : heading) title += (title.empty() ? "" : " ") + piece;
    heading = wrapped(title, width);
  }
  [[nodiscard]] std::string padded(const std::string& text) const {
    return right ? padded_left(text, width) : padded_right(text, width);
  }
};

std::vector<TextColumn> columns_of(const Table& table) {
  std::vector<TextColumn> columns;
  if (table.has_marks()) {
    std::vector<std::string> marks;
    for (const Table::Row& row : table.rows) marks.push_back(row.mark);
    columns.emplace_back("", marks, Table::Column{"", false, true});
  }
  for (std::size_t i = 0; i < table.columns.size(); ++i) {
    std::vector<std::string> cells;
    for (const Table::Row& row : table.rows) cells.push_back(cell_text(row.cells[i]));
    columns.emplace_back(table.columns[i].heading, cells, table.columns[i]);
  }
  return columns;
}

// Narrows the columns that wrap, the widest first, then the gaps; the gap, or 0 if the table needs more.
int fitted_gap(std::vector<TextColumn>& columns, int width) {
  const int gaps = static_cast<int>(columns.size()) - 1;
  for (int gap = 2; gap > 0;) {
    const int total = std::accumulate(columns.begin(), columns.end(), gap * gaps,
                                      [](int sum, const TextColumn& c) { return sum + c.width; });
    if (total <= width) return gap;
    TextColumn* widest = nullptr;
    for (TextColumn& column : columns) {
      if (column.width > column.least && (widest == nullptr || column.width > widest->width))
        widest = &column;
    }
    if (widest == nullptr) {
      --gap;
    } else {
      widest->narrow();
    }
  }
  return 0;
}

// One row of cells, each already broken into lines, side by side.
void add_row(std::vector<TableLine>& out, const std::vector<TextColumn>& columns, int gap,
             const std::vector<std::vector<std::string>>& cells, bool at_bottom, bool strong) {
  std::size_t height = 0;
  for (const auto& cell : cells) height = std::max(height, cell.size());
  for (std::size_t row = 0; row < height; ++row) {
    std::string text;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::size_t skipped = at_bottom ? height - cells[i].size() : 0;
      const bool present = row >= skipped && row - skipped < cells[i].size();
      if (i > 0) text.append(static_cast<std::size_t>(gap), ' ');
      text += columns[i].padded(present ? cells[i][row - skipped] : "");
    }
    text.erase(text.find_last_not_of(' ') + 1);
    out.push_back({text, strong});
  }
}

}  // namespace

std::vector<TableLine> table_lines(const Table& table, int width) {
  std::vector<TextColumn> columns = columns_of(table);
  const int gap = fitted_gap(columns, width);
  if (gap == 0) return {};

  std::vector<TableLine> out;
  std::vector<std::vector<std::string>> headings;
  for (const TextColumn& column : columns) headings.push_back(column.heading);
  add_row(out, columns, gap, headings, true, true);
  int total = -gap;
  for (const TextColumn& column : columns) total += column.width + gap;
  const TableLine rule{std::string(static_cast<std::size_t>(std::max(0, total)), '-'), false};
  out.push_back(rule);
  const auto follows = [](Table::Role role) {
    return role == Table::Role::sum || role == Table::Role::total;
  };
  for (std::size_t row = 0; row < table.rows.size(); ++row) {
    const Table::Role role = table.rows[row].role;
    if (follows(role) && row > 0 && !follows(table.rows[row - 1].role)) out.push_back(rule);
    std::vector<std::vector<std::string>> cells;
    for (const TextColumn& column : columns) {
      cells.push_back(column.wraps ? wrapped(column.cells[row], column.width)
                                   : std::vector<std::string>{column.cells[row]});
    }
    add_row(out, columns, gap, cells, false, role == Table::Role::best || role == Table::Role::total);
  }
  return out;
}

}  // namespace mendworth
