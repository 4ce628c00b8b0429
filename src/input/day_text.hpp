#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "mendworth/case.hpp"

namespace mendworth::input {

/// A day that exists, "YYYY-MM-DD", year 1583 or later. Absent if the text is anything else.
[[nodiscard]] std::optional<Date> day_of(std::string_view text);

/// "YYYY-MM-DD".
[[nodiscard]] std::string day_text(const Date& date);

}  // namespace mendworth::input
