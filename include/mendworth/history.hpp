#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"

/// A shop's record of how long parts lasted. Ages count from new, in one unit for a whole history.
namespace mendworth {

/// LifeRecord::failed_by of a piece that has not failed.
inline constexpr double still_working = std::numeric_limits<double>::infinity();

/// What is known of the life of one piece, or of several alike.
struct LifeRecord {
  double worked_at = 0;              ///< the last age at which it is known to have worked, >= 0
  double failed_by = still_working;  ///< the first age at which it is known to have failed, >= worked_at
  double first_seen = 0;  ///< age when it came under watch; had it failed before, it would not be here
  double weight = 1;      ///< pieces that this stands for, > 0

  /// The failure was seen as it happened: worked_at and failed_by are the same age.
  [[nodiscard]] bool exact() const noexcept { return failed_by == worked_at; }
  /// It has not failed.
  [[nodiscard]] bool working() const noexcept { return failed_by == still_working; }
  /// Failed before it was first looked at.
  [[nodiscard]] bool left() const noexcept { return worked_at == 0 && !exact() && !working(); }
};

/// Records that are looked at together: all of them, or those with one value in the grouping column.
struct LifeGroup {
  std::string name;                 ///< value of the grouping column; empty without one
  std::vector<LifeRecord> records;  ///< at least one
};

/// The records of a file that concern one part.
struct History {
  std::string source_name;  ///< the file
  std::string part;         ///< the part that was asked for; empty: all rows
  std::vector<std::string>
      parts;  ///< the different parts among these rows, in order of first appearance; may be empty
  LifeUnit unit = LifeUnit::cycles;  ///< of every age
  std::vector<LifeGroup> groups;     ///< at least one, none empty, in order of first appearance
};

/// Which rows are read, and how.
struct HistoryOptions {
  std::string part;            ///< only rows whose column "part" says this; empty: all rows
  std::string group_column;    ///< empty: one group
  bool decimal_comma = false;  ///< "1,5" is one and a half; the separator is then a semicolon or a tab
};

/// Reads a history from CSV (RFC 4180; comma, semicolon or tab, told from the header row; a byte order mark and any line
/// end are taken). Columns: one of age_cycles, age_hours, age_years; state ("failed" or "working"); and, where
/// wanted, worked_at (age at the last look before it was found failed: the failure lies in between; 0: nobody looked;
/// empty: the failure was seen as it happened), first_seen (empty: watched from new), count (pieces; empty: one), part.
/// Upper and lower case are the same in these names and words. Other columns are left alone; one of them may be the
/// grouping column, of at most most_history_groups values.
/// Throws InputError with every bad row (the first hundred in full, the rest counted).
[[nodiscard]] History read_history(std::string_view csv, const std::string& source_name,
                                   const HistoryOptions& options = {});

/// More are no comparison: the column is none to group by.
inline constexpr std::size_t most_history_groups = 50;

/// The largest history that is read, in bytes.
inline constexpr std::size_t largest_history = std::size_t{1} << 30U;

}  // namespace mendworth
