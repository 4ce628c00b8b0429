#include "base/plain_number.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

namespace mendworth {

namespace {

// Beyond these a plain row of digits says less than an exponent.
constexpr double largest_plain = 1e15;
constexpr double smallest_plain = 1e-6;

std::string with_grouped_thousands(std::string text) {
  const std::size_t first = text.starts_with('-') ? 1 : 0;
  for (std::size_t at = std::min(text.find('.'), text.size()); at > first + 3;) {
    at -= 3;
    text.insert(at, 1, ',');
  }
  return text;
}

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
  if (decimals >= 0)
    return with_grouped_thousands(without_trailing_zeros(fmt::format("{:.{}f}", value, decimals)));
  const double step = std::pow(10.0, -decimals);
  return with_grouped_thousands(fmt::format("{:.0f}", std::round(value / step) * step));
}

std::string number_text(double value) {
  constexpr double noise = 1e-9;  // what arithmetic leaves on a whole number, relative
  const double size = std::abs(value);
  const bool whole = size >= 1 && size < largest_plain && std::abs(value - std::round(value)) <= noise * size;
  return whole ? grouped_text(std::llround(value)) : significant_text(value, 4);
}

std::string grouped_text(long long value) { return with_grouped_thousands(fmt::format("{}", value)); }

}  // namespace mendworth
