#include "render/quote_words.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

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

std::string Pen::sum(Money sum) const { return written(sum, currency_, style_); }
std::string Pen::sum(double expected) const { return sum(rounded(expected, currency_)); }
std::string Pen::amount(Money sum) const { return written_amount(sum, currency_, style_); }
std::string Pen::amount(double expected) const { return amount(rounded(expected, currency_)); }
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
std::string Pen::time(double minutes, int most_decimals) const {
  constexpr double per_hour = 60;
  const double scale = std::pow(10.0, most_decimals);
  const double printed = std::round(minutes * scale) / scale;
  const double hours = std::floor(printed / per_hour);
  const std::string rest = number(printed - hours * per_hour, most_decimals);
  if (hours < 1) return rest + " min";
  return number(hours, 0) + " h" + (rest == "0" ? "" : " " + rest + " min");
}
std::string Pen::day(const Date& date) const { return written(date, style_); }

std::string sheet_name(const std::string& title, const std::optional<std::string>& number,
                       const std::string& device) {
  return title + (number ? " " + *number : " (draft)") + (device.empty() ? "" : ", " + device);
}

std::string day_range(int low, int high) {
  const auto days = [](int count) { return std::to_string(count) + (count == 1 ? " day" : " days"); };
  if (high <= 0) return "the same day";
  if (low >= high) return days(high);
  if (low <= 0) return "up to " + days(high);
  return std::to_string(low) + " to " + days(high);
}

}  // namespace mendworth
