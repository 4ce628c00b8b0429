#include "mendworth/written.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <stdexcept>

#include "numeric/exact.hpp"

namespace mendworth {

namespace {

constexpr std::size_t group_size = 3;

struct Written {
  bool negative = false;
  std::string digits;  ///< without a sign
};

/// The digits of a whole number of units of which 10^decimals make one, grouped, with the mark before the last ones.
std::string marked(std::string digits, std::size_t decimals, const NumberStyle& style) {
  if (digits.size() <= decimals) digits.insert(0, decimals + 1 - digits.size(), '0');
  const std::size_t whole = digits.size() - decimals;
  std::string text;
  for (std::size_t at = 0; at < whole; ++at) {
    if (at > 0 && (whole - at) % group_size == 0) text += style.group_mark;
    text += digits[at];
  }
  return decimals == 0 ? text : text + style.decimal_mark + digits.substr(whole);
}

Written written_apart(Money sum, const Currency& currency, const NumberStyle& style) {
  if (currency.minor_digits < 0) throw std::domain_error("a currency has no fewer than 0 minor digits");
  // Without the sign first, so that the least 64-bit number has its digits too.
  std::string digits = std::to_string(sum.minor);
  const bool negative = sum.minor < 0;
  if (negative) digits.erase(0, 1);
  return {negative, marked(digits, static_cast<std::size_t>(currency.minor_digits), style)};
}

void replace(std::string& text, const std::string& what, const std::string& by) {
  if (const std::size_t at = text.find(what); at != std::string::npos) text.replace(at, what.size(), by);
}

}  // namespace

Money rounded(double amount, const Currency& currency) {
  return {(Exact::decimal(amount) * Exact::power_of_ten(currency.minor_digits)).rounded()};
}

double in_units(Money sum, const Currency& currency) {
  return static_cast<double>(sum.minor) / std::pow(10.0, currency.minor_digits);
}

std::string written_amount(Money sum, const Currency& currency, const NumberStyle& style) {
  const Written w = written_apart(sum, currency, style);
  return (w.negative ? "-" : "") + w.digits;
}

std::string written(Money sum, const Currency& currency, const NumberStyle& style) {
  const Written w = written_apart(sum, currency, style);
  const std::string sign = w.negative ? "-" : "";
  const std::string name = style.currency.value_or(currency.code);
  if (name.empty()) return sign + w.digits;
  return style.currency_first ? sign + name + ' ' + w.digits : sign + w.digits + ' ' + name;
}

std::string written_number(double value, int most_decimals, const NumberStyle& style) {
  if (!std::isfinite(value)) throw std::domain_error("a number to be shown is not finite");
  if (most_decimals < 0) throw std::domain_error("a number has no fewer than 0 decimals");
  // Rounded in decimals, halves away from zero, as the money beside it: 1.005 is 1.01. What is too large for that has
  // fewer decimals, which a double of that size does not carry anyway.
  constexpr double largest_exact = 1e15;
  const double size = std::abs(value);
  while (most_decimals > 0 && size * std::pow(10.0, most_decimals) >= largest_exact) --most_decimals;
  std::string digits =
      size < largest_exact
          ? std::to_string((Exact::decimal(size) * Exact::power_of_ten(most_decimals)).rounded())
          : fmt::format("{:.0f}", size);
  if (digits == "0") return digits;
  auto decimals = static_cast<std::size_t>(most_decimals);
  for (; decimals > 0 && digits.ends_with('0'); --decimals) digits.pop_back();
  return (value < 0 ? "-" : "") + marked(digits, decimals, style);
}

std::string written_years(double years) {
  constexpr double in_months_below = 1.5, months_a_year = 12.0, exact_within = 1e-3;
  if (!std::isfinite(years)) throw std::domain_error("a number to be shown is not finite");
  const bool in_months = years < in_months_below && std::abs(years - 1) > exact_within;
  const double value = in_months ? years * months_a_year : years;
  const double whole = std::round(value);
  return fmt::format("{}{:.0f} {}{}", std::abs(value - whole) > exact_within ? "about " : "", whole,
                     in_months ? "month" : "year", whole == 1 ? "" : "s");
}

std::string written(const Date& date, const NumberStyle& style) {
  std::string text = style.date_form;
  replace(text, "YYYY", fmt::format("{:04}", date.year));
  replace(text, "MM", fmt::format("{:02}", date.month));
  replace(text, "DD", fmt::format("{:02}", date.day));
  return text;
}

}  // namespace mendworth
