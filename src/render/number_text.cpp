#include "render/number_text.hpp"

#include "mendworth/case.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <stdexcept>

#include "mendworth/render.hpp"

namespace mendworth {

namespace {

// Amounts are rounded in whole numbers of such a small part of a unit that what arithmetic in binary leaves behind
// vanishes; the larger the amount, the coarser the part that 64 bits can hold.
constexpr double largest_in_billionths = 9e9;
constexpr double largest_in_millionths = 9e12;

constexpr double largest_percent = 9999;
constexpr double shortest_in_years = 0.1;

std::int64_t power_of_ten(int exponent) {
  std::int64_t power = 1;
  for (int i = 0; i < exponent; ++i) power *= 10;
  return power;
}

bool is_zero_text(const std::string& digits) { return digits.find_first_not_of("-0.") == std::string::npos; }

std::string without_negative_zero(std::string text) {
  if (text.starts_with('-') && is_zero_text(text)) text.erase(0, 1);
  return text;
}

void require_finite(double value) {
  if (!std::isfinite(value)) throw std::domain_error("a number to be shown is not finite");
}

// The power of ten of the first digit: 1 for 23, -1 for 0.3.
int place_of(double size) { return static_cast<int>(std::floor(std::log10(size) + 1e-9)); }

double rounded_to_place(double value, int place) {
  const double step = std::pow(10.0, place);
  return std::round(value / step) * step;
}

std::string at_place(double value, int place) {
  if (place >= 0) return number_text(rounded_to_place(value, place));
  return without_negative_zero(fmt::format("{:.{}f}", value, -place));
}

}  // namespace

std::string money_text(double amount, int minor_digits) {
  require_finite(amount);
  if (minor_digits < 0 || minor_digits > 6) throw std::domain_error("a currency has 0 to 6 minor digits");
  const double size = std::abs(amount);
  if (size >= largest_in_millionths) return fmt::format("{:.{}f}", amount, minor_digits);

  const int fine_digits = size < largest_in_billionths ? 9 : 6;
  const std::int64_t fine = std::llround(size * static_cast<double>(power_of_ten(fine_digits)));
  const std::int64_t step = power_of_ten(fine_digits - minor_digits);
  const std::int64_t units = (fine + step / 2) / step;
  const std::int64_t whole = units / power_of_ten(minor_digits);
  const std::int64_t rest = units % power_of_ten(minor_digits);
  const char* sign = amount < 0 && units != 0 ? "-" : "";
  if (minor_digits == 0) return fmt::format("{}{}", sign, whole);
  return fmt::format("{}{}.{:0{}}", sign, whole, rest, minor_digits);
}

std::string supported_money_text(double amount, double error, int minor_digits) {
  require_finite(error);
  if (error < 0) throw std::domain_error("a standard error is not negative");
  if (error == 0 || place_of(error) <= -minor_digits) return money_text(amount, minor_digits);
  const int place = place_of(error);
  return place < 0 ? money_text(amount, -place) : money_text(rounded_to_place(amount, place), 0);
}

std::string error_text(double error, int minor_digits) {
  if (!(error > 0)) return money_text(error, minor_digits);
  const int digits = std::clamp(1 - place_of(error), 0, minor_digits);
  return without_trailing_zeros(money_text(rounded_to_place(error, place_of(error) - 1), digits));
}

std::string interval_text(double value, double low, double high) {
  for (const double number : {value, low, high}) require_finite(number);
  if (low > high) throw std::domain_error("an interval rises");
  if (low == high) return number_text(value);
  const int place = place_of((high - low) / 2);
  return fmt::format("{} ({} to {})", at_place(value, place), at_place(low, place), at_place(high, place));
}

std::string unit_price_text(double each, int minor_digits) {
  constexpr int most_digits = 4;
  if (minor_digits >= most_digits) return money_text(each, minor_digits);
  std::string text = money_text(each, most_digits);
  const std::size_t shortest = text.size() - static_cast<std::size_t>(most_digits - minor_digits);
  while (text.size() > shortest && text.ends_with('0')) text.pop_back();
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string signed_money_text(double amount, int minor_digits) {
  const std::string text = money_text(amount, minor_digits);
  return text.starts_with('-') || is_zero_text(text) ? text : "+" + text;
}

std::string amount_text(double amount, const std::string& currency, int minor_digits) {
  return currency + " " + money_text(amount, minor_digits);
}

std::string life_text(double life) { return significant_text(life, 3); }

std::string decimals_text(double value, int most_decimals) {
  require_finite(value);
  return without_negative_zero(without_trailing_zeros(fmt::format("{:.{}f}", value, most_decimals)));
}

std::string percent_text(double share) {
  require_finite(share);
  const double percent = 100 * share;
  if (percent == 0) return "0 %";
  if (percent > largest_percent) return fmt::format(">{:.0f} %", largest_percent);
  if (percent < -largest_percent) return fmt::format("<-{:.0f} %", largest_percent);
  if (percent > 0 && percent < 0.1) return "<0.1 %";
  if (percent > 99.9 && percent < 100) return ">99.9 %";
  if (std::abs(percent) < 9.95 || (percent > 99 && percent < 100)) {
    return decimals_text(percent, 1) + " %";
  }
  return decimals_text(percent, 0) + " %";
}

std::string years_text(double years) {
  if (years > 0 && years < shortest_in_years) return days_text(years * days_per_year);
  const std::string number = decimals_text(years, 2);
  return number + (number == "1" ? " year" : " years");
}

std::string rough_years_text(double years) {
  require_finite(years);
  const double months = std::round(12 * years);
  if (months < 12) return count_text(std::llround(months), "month", "months");
  if (months < 15) return "1 year";
  const long long halves = std::llround(2 * years);
  if (years < 3.75 && halves % 2 != 0) return fmt::format("{} 1/2 years", halves / 2);
  if (years < 3.75) return fmt::format("{} years", halves / 2);
  const double step = years < 20 ? 1 : 5;
  return fmt::format("{} years", std::llround(years / step) * std::llround(step));
}

std::string days_text(double days) {
  const std::string number = decimals_text(days, 1);
  return number + (number == "1" ? " day" : " days");
}

std::string count_text(long long count, const std::string& one, const std::string& many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

}  // namespace mendworth
