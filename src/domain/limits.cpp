#include "domain/limits.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "base/plain_number.hpp"

namespace mendworth {

namespace {

using Entry = std::pair<std::string_view, const Limits*>;

constexpr std::array quantity_limits{
    Entry{"device.age_years", &limits::years},
    Entry{"device.bought_used_years_ago", &limits::years},
    Entry{"device.life_years", &limits::device_life},
    Entry{"device.use_per_day", &limits::use_per_day},
    Entry{"device.hours_per_day", &limits::hours_per_day},
    Entry{"device.guarantee_chance", &limits::chance},
    Entry{"device.guarantee_days", &limits::days},
    Entry{"device.resale", &limits::money},
    Entry{"device.scrap", &limits::money_or_fee},
    Entry{"device.keepsake", &limits::money},
    Entry{"fault.burden_per_year", &limits::money},
    Entry{"fault.common_cause_chance", &limits::chance},
    Entry{"fault.common_cause_years", &limits::years},
    Entry{"position.renewed_years_ago", &limits::years},
    Entry{"position.share", &limits::share_of_use},
    Entry{"position.minutes", &limits::minutes},
    Entry{"part.rated_life", &limits::life},
    Entry{"part.shape", &limits::shape},
    Entry{"part.candidate.fit", &limits::chance},
    Entry{"part.candidate.dead_on_arrival", &limits::chance},
    Entry{"part.candidate.rated_life", &limits::life},
    Entry{"part.candidate.shape", &limits::shape},
    Entry{"part.candidate.offer.price", &limits::money},
    Entry{"part.candidate.offer.prices.each", &limits::money},
    Entry{"part.candidate.offer.line_fee", &limits::money},
    Entry{"part.other_uses_per_year", &limits::pieces_per_year},
    Entry{"part.shelf_life_years", &limits::years},
    Entry{"part.spare_resale", &limits::money},
    Entry{"supplier.exchange_rate", &limits::exchange_rate},
    Entry{"supplier.exchange_fee", &limits::share_of_money},
    Entry{"supplier.shipping", &limits::money},
    Entry{"supplier.shipping.price", &limits::money},
    Entry{"supplier.low_order_below", &limits::money},
    Entry{"supplier.low_order_fee", &limits::money},
    Entry{"supplier.tax", &limits::share_of_money},
    Entry{"supplier.duty", &limits::share_of_money},
    Entry{"supplier.duty_free_up_to", &limits::money},
    Entry{"supplier.customs_fee", &limits::money},
    Entry{"supplier.lead_days", &limits::days},
    Entry{"labour.rate_per_hour", &limits::money},
    Entry{"labour.case_minutes", &limits::minutes},
    Entry{"labour.visit_minutes", &limits::minutes},
    Entry{"labour.learning_rate", &limits::learning_rate},
    Entry{"risk.opening_mendable", &limits::chance},
    Entry{"risk.opening_write_off", &limits::chance},
    Entry{"risk.joint_mendable", &limits::chance},
    Entry{"risk.joint_write_off", &limits::chance},
    Entry{"risk.mend_minutes", &limits::minutes},
    Entry{"risk.mend_money", &limits::money},
    Entry{"risk.diagnosis_right", &limits::chance},
    Entry{"risk.second_attempt.minutes", &limits::minutes},
    Entry{"risk.second_attempt.money", &limits::money},
    Entry{"risk.second_attempt.chance", &limits::chance},
    Entry{"risk.dead_found_after_closing", &limits::chance},
    Entry{"risk.misfit_found_after_closing", &limits::chance},
    Entry{"risk.dry_fit_minutes", &limits::minutes},
    Entry{"consumable.price", &limits::money},
    Entry{"consumable.chance", &limits::chance},
    Entry{"replacement.price", &limits::money},
    Entry{"replacement.tax", &limits::share_of_money},
    Entry{"replacement.shipping", &limits::money},
    Entry{"replacement.life_years", &limits::device_life},
    Entry{"replacement.life_shape", &limits::shape},
    Entry{"replacement.setup_minutes", &limits::minutes},
    Entry{"replacement.benefit_per_year", &limits::money},
    Entry{"replacement.resale", &limits::money},
    Entry{"replacement.delivery_days", &limits::days},
    Entry{"rest.remaining_years", &limits::device_life},
    Entry{"rest.shape", &limits::shape},
    Entry{"downtime.per_day", &limits::money},
    Entry{"downtime.bench_days", &limits::days},
    Entry{"horizon.years", &limits::years_of_need},
    Entry{"horizon.discount_rate", &limits::discount_rate},
    Entry{"licensed_repair.price", &limits::money},
    Entry{"licensed_repair.chance", &limits::chance},
    Entry{"licensed_repair.days", &limits::days},
};

std::string without_numbers(std::string_view key) {
  std::string out;
  while (!key.empty()) {
    const std::string_view step = key.substr(0, key.find('.'));
    if (step.find_first_not_of("0123456789") != std::string_view::npos)
      out += (out.empty() ? "" : ".") + std::string(step);
    key.remove_prefix(std::min(key.size(), step.size() + 1));
  }
  return out;
}

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

const Limits& limits_of(std::string_view key) {
  const std::string plain = without_numbers(key);
  const auto* const found = std::find_if(quantity_limits.begin(), quantity_limits.end(),
                                         [&](const Entry& entry) { return entry.first == plain; });
  if (found == quantity_limits.end())
    throw std::invalid_argument(fmt::format("'{}' is no number of a case", key));
  return *found->second;
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
