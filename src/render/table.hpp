#pragma once

#include <string>
#include <vector>

namespace mendworth {

/// A table in plain text: numbers to the right, words to the left, columns that may wrap take what is left.
class Table {
 public:
  enum class Align { left, right };
  struct Column {
    std::string heading;  ///< may hold '\n'
    Align align = Align::right;
    bool wraps = false;
  };
  struct Line {
    std::string text;
    bool strong = false;  ///< emphasis, for instance bold
  };

  explicit Table(std::vector<Column> columns);

  /// One cell for each column. Cells are made printable. Throws std::invalid_argument for another number.
  void add_row(std::vector<std::string> cells, bool strong = false);
  /// A line of dashes before the next row.
  void add_rule() { rows_.push_back({}); }
  [[nodiscard]] bool empty() const noexcept { return rows_.empty(); }

  /// Heading, a rule, the rows; at most `width` columns wide unless the columns that do not wrap need more.
  [[nodiscard]] std::vector<Line> lines(int width) const;

 private:
  struct Row {
    std::vector<std::string> cells;  ///< none: a rule
    bool strong = false;
  };
  std::vector<Column> columns_;
  std::vector<Row> rows_;
};

}  // namespace mendworth
