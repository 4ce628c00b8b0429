#include "cli/values.hpp"

#include <algorithm>
#include <charconv>
#include <chrono>

#include "input/day_text.hpp"

namespace mendworth::cli {

namespace {

bool only_digits(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

Date date_of(const std::chrono::year_month_day& day) {
  return {static_cast<int>(day.year()), static_cast<int>(static_cast<unsigned>(day.month())),
          static_cast<int>(static_cast<unsigned>(day.day()))};
}

}  // namespace

std::optional<std::uint64_t> whole_number(std::string_view text, std::uint64_t low, std::uint64_t high) {
  if (!only_digits(text) || (text.size() > 1 && text.front() == '0')) return std::nullopt;
  std::uint64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  if (value < low || value > high) return std::nullopt;
  return value;
}

std::optional<double> decimal_number(std::string_view text, double low, double high) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  if (!(value >= low && value <= high)) return std::nullopt;  // NaN neither
  return value;
}

std::optional<Date> day(std::string_view text) { return input::day_of(text); }

std::optional<Date> day_of_epoch_seconds(std::string_view text) {
  constexpr std::uint64_t end_of_year_9999 = 253'402'300'799;
  const auto seconds = whole_number(text, 0, end_of_year_9999);
  if (!seconds) return std::nullopt;
  constexpr std::uint64_t seconds_per_day = 86'400;
  const std::chrono::sys_days days{std::chrono::days(static_cast<int>(*seconds / seconds_per_day))};
  return date_of(std::chrono::year_month_day{days});
}

}  // namespace mendworth::cli
