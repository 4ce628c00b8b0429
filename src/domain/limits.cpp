#include "domain/limits.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/plain_number.hpp"

namespace mendworth {

namespace {

/// As a case is written: no commas at the thousands, and no exponent.
std::string plain(double value) {
  return value > 0 && value < 1e-4 ? number_text(value) : fmt::format("{}", value);
}

constexpr double days_a_year = 365.25;
constexpr double shortest_wear_years = 0.001;
constexpr double longest_wear_years = 1e9;
constexpr double most_lives_reached = 1000;  ///< by a device's age

/// How fast a kind of part wears where it is used: its rated life in years, at the ends of all ranges.
class WearClashes {
 public:
  WearClashes(const Case& c, std::vector<Clash>& clashes) : c_(c), clashes_(clashes) {}

  void look_at(const std::string& key, const LifePrior& life, const Quantity& share) {
    double slowest = 1, fastest = 1;  // units of the life a year
    std::string use;
    if (life.unit != LifeUnit::years) {
      const bool cycles = life.unit == LifeUnit::cycles;
      const std::optional<Quantity>& a_day = cycles ? c_.device.use_per_day : c_.device.hours_per_day;
      if (!a_day) return;
      slowest = a_day->low() * days_a_year;
      fastest = a_day->high() * days_a_year;
      use = cycles ? "device.use_per_day" : "device.hours_per_day";
    }
    const double shortest = life.rated_life.low() / (fastest * share.high());
    const double longest = life.rated_life.high() / (slowest * share.low());
    const char* unit = name_of(life.unit);
    if (shortest < shortest_wear_years) {
      add(key,
          fmt::format("a life of {} {} is used up in {} years, allowed is {} or more",
                      number_text(life.rated_life.low()), unit, number_text(shortest),
                      number_text(shortest_wear_years)),
          use);
    } else if (longest > longest_wear_years) {
      add(key,
          fmt::format("a life of {} {} lasts {} years, allowed is {} or less",
                      number_text(life.rated_life.high()), unit, number_text(longest),
                      number_text(longest_wear_years)),
          use);
    }
  }

 private:
  void add(const std::string& key, std::string message, const std::string& use) {
    const std::string full = key + ".rated_life";
    const bool known =
        std::any_of(clashes_.begin(), clashes_.end(), [&](const Clash& clash) { return clash.key == full; });
    if (known) return;  // by another position
    if (!use.empty()) message += fmt::format(" ({} and position.share say how fast)", use);
    clashes_.push_back({full, std::move(message), "one of these is in another unit than it should be"});
  }

  const Case& c_;
  std::vector<Clash>& clashes_;
};

}  // namespace

std::string Limits::allowed_instead_of(double value) const {
  if (value >= low && value <= high)
    return fmt::format("0 or at least {}{}", plain(least), low < 0 ? " in size" : "");
  return fmt::format("{} to {}", plain(low), high);
}

std::vector<Clash> clashes_of(const Case& c) {
  std::vector<Clash> clashes;
  WearClashes wear(c, clashes);
  for (const PositionGroup& group : c.positions) {
    const auto p = static_cast<std::size_t>(group.part);
    const std::string key = fmt::format("part.{}", p + 1);
    wear.look_at(key, c.parts[p].life, group.share);
    for (std::size_t i = 0; i < c.parts[p].candidates.size(); ++i) {
      const LifePrior& life = c.parts[p].candidates[i].life;
      const bool inherited =
          life.unit == c.parts[p].life.unit && life.rated_life == c.parts[p].life.rated_life;
      if (!inherited) wear.look_at(fmt::format("{}.candidate.{}", key, i + 1), life, group.share);
    }
  }
  if (!c.rest.remaining_years && c.device.age_years.high() > most_lives_reached * c.device.life_years.low()) {
    clashes.push_back(
        {"device.age_years",
         fmt::format("an age of {} years is beyond all that a device with a life of {} years reaches",
                     number_text(c.device.age_years.high()), number_text(c.device.life_years.low())),
         "state rest.remaining_years, or correct device.age_years or device.life_years"});
  }
  if (!c.horizon.years && c.horizon.discount_rate.low() < 0) {
    clashes.push_back({"horizon.discount_rate",
                       fmt::format("found {}: at a rate below 0 a need that goes on costs without end",
                                   number_text(c.horizon.discount_rate.low())),
                       "write 0 or more, or say with horizon.years when the need ends"});
  }
  return clashes;
}

}  // namespace mendworth
