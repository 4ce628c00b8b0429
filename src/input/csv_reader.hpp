#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input/csv_table.hpp"
#include "input/problems.hpp"
#include "mendworth/case.hpp"

namespace mendworth::input {

/// A column that a table may have.
struct CsvColumn {
  const char* name;               ///< in lower case
  const char* missing = nullptr;  ///< said where it is not there; null: it may be left out
};

/// The columns of those given that a header has.
[[nodiscard]] std::size_t known_columns(const CsvRow& header, std::span<const CsvColumn> columns);

/// Reads one table row by row and gathers what is wrong with it. Columns are spoken of by their number among those given.
class CsvReader {
 public:
  CsvReader(const std::string& source_name, char separator, std::span<const CsvColumn> columns);

  /// Reads the header, then calls `row` for each row that is as wide as the header and not blank. After a header that
  /// will not do nothing is read. `header` reads it instead, and says whether to go on.
  void read(std::string_view text, const std::function<void(const CsvRow&)>& row,
            const std::function<bool(const CsvRow&)>& header = {});
  /// Throws InputError if anything is wrong; `example` says what an empty file should begin with.
  void finish(const char* example, bool rows_wanted);

  /// Its place in a row, as the header has it.
  [[nodiscard]] const std::optional<std::size_t>& at(std::size_t column) const { return at_[column]; }
  /// What a row says there, without blanks around it; empty where the table has no such column.
  [[nodiscard]] std::string_view field(const CsvRow& row, std::size_t column) const;
  /// As the header has them.
  [[nodiscard]] const std::vector<std::string>& headings() const { return headings_; }
  /// Those read, blank ones not counted.
  [[nodiscard]] std::size_t rows() const { return rows_; }
  [[nodiscard]] Problems& problems() { return problems_; }

  void add(const CsvRow& row, std::size_t column, std::string message, std::string remedy = "");
  void add(int line, std::string key, std::string message, std::string remedy = "");
  /// A number from 0 to `most`; 0 where it is none, which is reported.
  [[nodiscard]] int whole_number(const CsvRow& row, std::size_t column, int most);
  /// Absent where it is no day, which is reported.
  [[nodiscard]] std::optional<Date> day(const CsvRow& row, std::size_t column, const char* remedy = "");

 private:
  [[nodiscard]] bool read_header(const CsvRow& header);
  [[nodiscard]] bool is_row(const CsvRow& row);

  char separator_;
  std::span<const CsvColumn> columns_;
  std::vector<std::optional<std::size_t>> at_;
  std::vector<std::string> headings_;
  std::size_t count_ = 0, rows_ = 0;
  bool header_done_ = false;
  Problems problems_;
};

}  // namespace mendworth::input
