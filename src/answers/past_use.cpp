#include "answers/past_use.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <set>

#include "mendworth/diagnostic.hpp"

namespace mendworth {
namespace {

using std::chrono::year_month;

constexpr int longest_record = 12 * 200;  ///< months; more are a slip in a year

year_month month_of(const Date& day) {
  return std::chrono::year(day.year) / std::chrono::month(static_cast<unsigned>(day.month));
}

int days_in(const year_month& month) {
  return static_cast<int>(static_cast<unsigned>((month / std::chrono::last).day()));
}

[[noreturn]] void refuse_record(const PastUse& use, const std::string& key, const std::string& message,
                                const std::string& remedy) {
  throw InputError({{use.source_name, 0, 0, key, message, remedy}});
}

}  // namespace

UsedMonths months_of(const PastUse& use, const std::string& part) {
  const auto [first, last] =
      std::minmax_element(use.entries.begin(), use.entries.end(),
                          [](const UseEntry& a, const UseEntry& b) { return a.day < b.day; });
  UsedMonths used{first->day, last->day, {}};
  for (const UseEntry& entry : use.entries) {
    if (entry.pieces == 0) continue;
    if (entry.day == first->day) used.from.day = 1;
    if (entry.day == last->day) used.to.day = days_in(month_of(last->day));
  }
  const year_month start = month_of(used.from);
  const auto count = static_cast<std::size_t>((month_of(used.to) - start).count()) + 1;
  if (count < 2) {
    refuse_record(use, "date", "the record covers less than two months, which tell nothing of a rate",
                  "a row of 0 pieces says since when, or until when, it was kept");
  }
  if (count > longest_record) {
    refuse_record(
        use, "date",
        fmt::format("the record covers {} months, from {} to {}", count, used.from.year, used.to.year),
        "look for a slip in a year");
  }
  used.months.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const year_month month = start + std::chrono::months(static_cast<int>(i));
    const int days = days_in(month);
    const int from = i == 0 ? used.from.day : 1, to = i + 1 == count ? used.to.day : days;
    used.months[i].time = static_cast<double>(to - from + 1) / days;
  }
  bool named = false;
  double pieces = 0;
  std::set<std::string> others;
  for (const UseEntry& entry : use.entries) {
    if (!part.empty() && entry.part != part) {
      others.insert(entry.part);
      continue;
    }
    named = true;
    pieces += entry.pieces;
    used.months[static_cast<std::size_t>((month_of(entry.day) - start).count())].count += entry.pieces;
  }
  if (!named) {
    refuse_record(use, "part", fmt::format("no row is about part '{}'", part),
                  fmt::format("parts in it: '{}'", fmt::join(others, "', '")));
  }
  if (pieces == 0) {
    refuse_record(use, "pieces",
                  part.empty() ? "nothing was used" : fmt::format("nothing was used of '{}'", part),
                  "a rate needs at least one piece; state jobs_per_month in the case instead");
  }
  return used;
}

}  // namespace mendworth
