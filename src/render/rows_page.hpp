#pragma once

#include <optional>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "mendworth/row_answer.hpp"

namespace mendworth {

/// A row of a table of devices and its answer; absent: `problem` says why.
struct ReportRow {
  std::vector<std::string> fields{};  ///< one for each heading
  std::optional<RowAnswer> answer{};
  std::string problem{};
};

/// How many devices to repair and to replace, with the money of it, and the answer of each. `table_name` is whose rows
/// they are. Throws UnknownName.
[[nodiscard]] std::string rows_page(const std::string& table_name, const std::vector<std::string>& headings,
                                    const std::vector<ReportRow>& rows, const PageStyle& style);

}  // namespace mendworth
