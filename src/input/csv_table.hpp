#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace mendworth::input {

/// More fields of a row are counted but not kept.
inline constexpr std::size_t most_csv_fields = 1000;

/// One row; the views hold until the next row is read.
struct CsvRow {
  int line = 0;                          ///< where it starts, 1-based
  std::vector<std::string_view> fields;  ///< blanks around unquoted fields are gone; at most most_csv_fields
  std::size_t field_count = 0;           ///< with those that are not kept
  std::string_view text;                 ///< all that is read, from the row's first line on
};

/// What is done with the rows of a table, in their order. False: read no further.
struct CsvHandler {
  std::function<bool(const CsvRow&)> row;
  /// A row that breaks the quoting rules, with the line where it starts; reading goes on at the next line.
  std::function<bool(int line, const std::string& message)> bad_row;
};

/// Reads comma-separated values by RFC 4180, with any separator, and lines that end in LF, CR LF or CR, the last one
/// or not at all. Quoted fields may hold line ends, separators and doubled quotes. Blank lines are skipped.
void read_csv(std::string_view text, char separator, const CsvHandler& handler);

}  // namespace mendworth::input
