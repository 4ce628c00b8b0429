#include "base/plain_number.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

namespace mendworth {

namespace {

// Beyond these a plain row of digits says less than an exponent.
constexpr double largest_plain = 1e15;
constexpr double smallest_plain = 1e-6;

}  // namespace

std::string without_trailing_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string significant_text(double value, int digits) {
  if (!std::isfinite(value)) throw std::domain_error("a number to be shown is not finite");
  const double size = std::abs(value);
  if (size == 0) return "0";
  if (size >= largest_plain || size < smallest_plain) return fmt::format("{:.3g}", value);
  const int decimals = digits - 1 - static_cast<int>(std::floor(std::log10(size)));
  if (decimals >= 0) return without_trailing_zeros(fmt::format("{:.{}f}", value, decimals));
  const double step = std::pow(10.0, -decimals);
  return fmt::format("{:.0f}", std::round(value / step) * step);
}

std::string number_text(double value) {
  constexpr double noise = 1e-9;  // what arithmetic leaves on a whole number, relative
  const double size = std::abs(value);
  const bool whole = size >= 1 && size < largest_plain && std::abs(value - std::round(value)) <= noise * size;
  return whole ? fmt::format("{}", std::llround(value)) : significant_text(value, 4);
}

}  // namespace mendworth
