#pragma once

#include <string>

#include "mendworth/case.hpp"
#include "mendworth/money.hpp"
#include "mendworth/shop.hpp"

/// Sums, numbers and dates as the shop file wants them written, whatever the locale.
namespace mendworth {

/// "EUR 1,234.50", "1.234,50 €", "JPY 1200"; a negative sum begins with '-': "-EUR 2.00", "-2,00 €".
[[nodiscard]] std::string written(Money sum, const Currency& currency, const NumberStyle& style);

/// The same without the currency: "1,234.50".
[[nodiscard]] std::string written_amount(Money sum, const Currency& currency, const NumberStyle& style);

/// A number with at most so many digits after the mark, none idle, grouped: "1.25", "1,250".
/// Throws std::domain_error if it is not finite.
[[nodiscard]] std::string written_number(double value, int most_decimals, const NumberStyle& style);

/// A stretch of years as one says it: "5 years", "about 3 years", "about 8 months"; "about" where that rounds.
[[nodiscard]] std::string written_years(double years);

/// "2026-03-01" or as the style's form says.
[[nodiscard]] std::string written(const Date& date, const NumberStyle& style);

}  // namespace mendworth
