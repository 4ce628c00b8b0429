#pragma once

#include <optional>
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

  /// "EUR 12.50". An expectation is rounded first, and throws like `rounded`.
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
  /// Minutes as one says them: "50 min", "1 h 20 min", "2 h".
  [[nodiscard]] std::string time(double minutes, int most_decimals) const;
  [[nodiscard]] std::string day(const Date& date) const;

 private:
  Currency currency_;
  NumberStyle style_;
};

/// Of a sheet, for the head and foot of every page: "Quote Q-7, Table radio", "Quote (draft), Table radio".
[[nodiscard]] std::string sheet_name(const std::string& title, const std::optional<std::string>& number,
                                     const std::string& device);

/// "the same day", "1 day", "up to 2 days", "3 to 5 days"
[[nodiscard]] std::string day_range(int low, int high);

}  // namespace mendworth
