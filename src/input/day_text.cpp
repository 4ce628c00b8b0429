#include "input/day_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

namespace mendworth::input {

namespace {

bool only_digits(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

// For a fixed number of digits, which may begin with zeros.
int number_of(std::string_view digits) {
  int value = 0;
  for (const char c : digits) value = value * 10 + (c - '0');
  return value;
}

}  // namespace

std::optional<Date> day_of(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const std::string_view year = text.substr(0, 4);
  const std::string_view month = text.substr(5, 2);
  const std::string_view day_of_month = text.substr(8, 2);
  if (!only_digits(year) || !only_digits(month) || !only_digits(day_of_month)) return std::nullopt;

  const Date date{number_of(year), number_of(month), number_of(day_of_month)};
  constexpr int first_whole_gregorian_year = 1583;
  const std::chrono::year_month_day checked{std::chrono::year(date.year),
                                            std::chrono::month(static_cast<unsigned>(date.month)),
                                            std::chrono::day(static_cast<unsigned>(date.day))};
  if (date.year < first_whole_gregorian_year || !checked.ok()) return std::nullopt;
  return date;
}

std::string day_text(const Date& date) {
  return fmt::format("{:04}-{:02}-{:02}", date.year, date.month, date.day);
}

}  // namespace mendworth::input
