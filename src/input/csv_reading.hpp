#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>

#include "input/csv_table.hpp"
#include "input/document.hpp"

/// What the readers of CSV files share.
namespace mendworth::input {

/// What UTF-8 text may begin with.
inline constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// The text without a byte order mark. Throws InputError if it is not UTF-8.
[[nodiscard]] std::string_view checked_csv(std::string_view csv, const std::string& source_name);

/// The separator, of those given, that the header row is written with: the one that tells most known columns, or else
/// that which stands there most often, or else the first. `known_columns` counts those of a header.
[[nodiscard]] char separator_of_header(std::string_view csv, std::string_view separators,
                                       const std::function<std::size_t(const CsvRow&)>& known_columns);

/// Where a field of a row begins, counted from 0.
[[nodiscard]] Place place_of_field(const CsvRow& row, char separator, std::size_t field);

/// In lower case; letters beyond ASCII stay as they are.
[[nodiscard]] std::string lower_case(std::string_view text);

/// "3 fields where the header has 4".
[[nodiscard]] std::string wrong_field_count(std::size_t found, std::size_t wanted);

}  // namespace mendworth::input
