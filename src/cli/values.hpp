#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "mendworth/case.hpp"

/// Words of the command line to values, strictly: no sign, blank, leading zero or second notation is let through.
namespace mendworth::cli {

enum class Format { unstated, text, markdown, html, csv, json };
enum class ColorChoice { automatic, always, never };

/// A decimal whole number in low..high. Absent if the text is anything else.
[[nodiscard]] std::optional<std::uint64_t> whole_number(std::string_view text, std::uint64_t low,
                                                        std::uint64_t high);

/// A number in low..high, written in decimal digits, with an exponent or not. Absent if the text is anything else.
[[nodiscard]] std::optional<double> decimal_number(std::string_view text, double low, double high);

/// A day that exists, "YYYY-MM-DD", year 1583 or later. Absent if the text is anything else.
[[nodiscard]] std::optional<Date> day(std::string_view text);

/// The day, in UTC, of a count of seconds since the start of 1970. Absent if the text is no such count.
[[nodiscard]] std::optional<Date> day_of_epoch_seconds(std::string_view text);

}  // namespace mendworth::cli
