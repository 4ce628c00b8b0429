#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/csv_table.hpp"
#include "input/problems.hpp"
#include "mendworth/history.hpp"

namespace mendworth::input {

/// Where the columns of a history stand, counted from 0.
struct HistoryColumns {
  std::size_t count = 0;  ///< of all columns
  LifeUnit unit = LifeUnit::cycles;
  std::string age_name;  ///< "age_cycles", "age_hours" or "age_years"
  std::size_t age = 0, state = 0;
  std::optional<std::size_t> worked_at, first_seen, pieces, part, group;
};

/// The separator that the header row is written with: the one that tells most of the columns a history knows, or
/// else that which stands there most often. No comma if numbers have decimal commas.
[[nodiscard]] char separator_of(std::string_view csv, bool decimal_comma);

/// Reads the header row. Absent if a column is missing, stands twice, or is asked for and not there: `problems`
/// has it then.
[[nodiscard]] std::optional<HistoryColumns> read_history_header(const CsvRow& header,
                                                                const HistoryOptions& options,
                                                                Problems& problems);

}  // namespace mendworth::input
