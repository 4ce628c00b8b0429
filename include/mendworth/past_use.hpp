#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "mendworth/date.hpp"

/// A shop's record of what it used: from it follows how much will be wanted.
namespace mendworth {

/// More pieces on one day are a slip.
inline constexpr int most_used_pieces = 1'000'000;

/// Pieces used on one day.
struct UseEntry {
  Date day;          ///< when they were used
  int pieces = 0;    ///< 0..most_used_pieces; 0: nothing, the day is within the record all the same
  std::string part;  ///< as cases name it; empty: not said
};

/// A record as its file has it.
struct PastUse {
  std::string source_name;        ///< the file
  std::vector<UseEntry> entries;  ///< at least one, in the order of the file
};

/// Reads a record from CSV (RFC 4180; comma, semicolon or tab, told from the header row; a byte order mark and any line
/// end are taken). Columns: date (YYYY-MM-DD), pieces (a whole number), and where it is about several parts, part; others
/// are left alone. Upper and lower case are the same in these names; the order of the rows does not matter. A row of 0
/// pieces says that the record reaches to its day.
/// Throws InputError with every bad row (the first hundred in full, the rest counted).
[[nodiscard]] PastUse read_past_use(std::string_view csv, const std::string& source_name);

}  // namespace mendworth
