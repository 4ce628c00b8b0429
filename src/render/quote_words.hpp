#pragma once

#include <string>
#include <utility>

#include "mendworth/money.hpp"
#include "mendworth/shop.hpp"

/// Sums, shares and days on the pages of a quote.
namespace mendworth {

/// Writes figures as one page wants them.
class Pen {
 public:
  Pen(Currency currency, NumberStyle style) : currency_(std::move(currency)), style_(std::move(style)) {}

  /// "EUR 12.50". An expectation is rounded half away from zero first; throws std::domain_error if it is not finite or
  /// has no place in 64 bits of minor units.
  [[nodiscard]] std::string sum(Money sum) const;
  [[nodiscard]] std::string sum(double expected) const;
  /// "12.50"
  [[nodiscard]] std::string amount(Money sum) const;
  [[nodiscard]] std::string amount(double expected) const;
  /// What stands in a heading in place of the currency in each cell: "EUR" or the shop's own sign.
  [[nodiscard]] std::string currency() const;
  /// A tax rate or another exact share: "9.975 %".
  [[nodiscard]] std::string rate(double share) const;
  /// A chance or a margin: "3.4 %", "<0.1 %".
  [[nodiscard]] std::string percent(double share) const;
  /// An input of any unit: four significant digits.
  [[nodiscard]] std::string input(double value) const;
  [[nodiscard]] std::string number(double value, int most_decimals) const;
  [[nodiscard]] std::string day(const Date& date) const;

 private:
  Currency currency_;
  NumberStyle style_;
};

/// An expectation in minor units, rounded half away from zero in decimal. Throws like Pen::sum.
[[nodiscard]] Money rounded_money(double expected, int minor_digits);

/// "the same day", "1 day", "up to 2 days", "3 to 5 days"
[[nodiscard]] std::string day_range(int low, int high);

}  // namespace mendworth
