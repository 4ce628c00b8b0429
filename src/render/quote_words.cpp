#include "render/quote_words.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "mendworth/written.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

// A number of number_text.hpp, which has a point and no groups, with the page's decimal mark.
std::string with_mark(std::string text, const NumberStyle& style) {
  if (const std::size_t point = text.find('.'); point != std::string::npos)
    text.replace(point, 1, style.decimal_mark);
  return text;
}

}  // namespace

Money rounded_money(double expected, int minor_digits) {
  constexpr double largest = 9e18;  // below the largest 64-bit number
  std::string digits = money_text(expected, minor_digits);
  if (std::abs(expected) * std::pow(10.0, minor_digits) >= largest)
    throw std::domain_error("a sum is too large for 64 bits of minor units");
  std::erase(digits, '.');
  return {std::stoll(digits)};
}

std::string Pen::sum(Money sum) const { return written(sum, currency_, style_); }
std::string Pen::sum(double expected) const { return sum(rounded_money(expected, currency_.minor_digits)); }
std::string Pen::amount(Money sum) const { return written_amount(sum, currency_, style_); }
std::string Pen::amount(double expected) const {
  return amount(rounded_money(expected, currency_.minor_digits));
}
std::string Pen::currency() const { return style_.currency.value_or(currency_.code); }

std::string Pen::rate(double share) const {
  constexpr int most_decimals = 4;
  return number(100 * share, most_decimals) + " %";
}
std::string Pen::percent(double share) const { return with_mark(percent_text(share), style_); }

std::string Pen::input(double value) const {
  constexpr int digits = 4;
  if (value == 0 || !std::isfinite(value)) return number(value, 0);
  const int before_point = static_cast<int>(std::floor(std::log10(std::abs(value)))) + 1;
  return number(value, std::clamp(digits - before_point, 0, 9));
}
std::string Pen::number(double value, int most_decimals) const {
  return written_number(value, most_decimals, style_);
}
std::string Pen::day(const Date& date) const { return written(date, style_); }

std::string day_range(int low, int high) {
  const auto days = [](int count) { return std::to_string(count) + (count == 1 ? " day" : " days"); };
  if (high <= 0) return "the same day";
  if (low >= high) return days(high);
  if (low <= 0) return "up to " + days(high);
  return std::to_string(low) + " to " + days(high);
}

}  // namespace mendworth
