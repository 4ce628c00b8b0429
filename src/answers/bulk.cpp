#include "mendworth/bulk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>

#include "answers/bulk_fleet.hpp"
#include "answers/bulk_ladder.hpp"
#include "answers/bulk_policies.hpp"
#include "answers/bulk_purchase.hpp"
#include "answers/bulk_quotations.hpp"
#include "base/plain_number.hpp"
#include "mendworth/case.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"

namespace mendworth {
namespace {

constexpr double months_per_year = 12;
constexpr int rate_points = 64;  ///< at which a range of jobs a month is taken
constexpr int most_scenarios = 12;
constexpr double most_pieces = 100'000;  ///< that a shop may want
constexpr int most_places = 20'000;      ///< of a whole fleet

/// Where the demand of one scenario comes from.
class Wants {
 public:
  virtual ~Wants() = default;
  Wants() = default;
  Wants(const Wants&) = delete;
  Wants& operator=(const Wants&) = delete;
  /// Pieces of a part wanted within so many years, beside those wanted at once.
  [[nodiscard]] virtual Demand pieces(std::size_t part, double years) const = 0;
  [[nodiscard]] virtual int now(std::size_t part) const = 0;
  /// Units that come in a year: one value for each way things may be.
  [[nodiscard]] virtual std::vector<double> units_per_year() const = 0;
};

class FleetWants final : public Wants {
 public:
  FleetWants(const Case& c, const FleetSize& size, const BulkSettings& settings)
      : fleet_(c, size, settings.futures, settings.seed) {}
  [[nodiscard]] Demand pieces(std::size_t part, double years) const override {
    return fleet_.failures(part, years);
  }
  [[nodiscard]] int now(std::size_t part) const override { return fleet_.failed_now(part); }
  [[nodiscard]] std::vector<double> units_per_year() const override { return fleet_.mean_failures(1.0); }
  [[nodiscard]] const Fleet& fleet() const noexcept { return fleet_; }

 private:
  Fleet fleet_;
};

/// Jobs come as a Poisson stream; where their rate is a range, it is averaged over.
class ShopWants final : public Wants {
 public:
  ShopWants(const Case& c, const Bulk& bulk, const Quantity& jobs_per_month) : c_(c), bulk_(bulk) {
    const int points = jobs_per_month.is_fixed() ? 1 : rate_points;
    for (int i = 0; i < points; ++i) {
      const double jobs = points == 1 ? jobs_per_month.base() : jobs_per_month.quantile((i + 0.5) / points);
      jobs_per_year_.push_back(jobs * months_per_year);
    }
  }
  [[nodiscard]] Demand pieces(std::size_t part, double years) const override {
    const int each = pieces_a_job(part);
    if (each == 0) return {};
    std::vector<Demand> demands;
    for (const double jobs : jobs_per_year_) demands.push_back(Demand::poisson(jobs * years).times(each));
    return Demand::mixture(demands);
  }
  [[nodiscard]] int now(std::size_t) const override { return 0; }
  [[nodiscard]] std::vector<double> units_per_year() const override { return jobs_per_year_; }

 private:
  [[nodiscard]] int pieces_a_job(std::size_t part) const {
    int failed = 0;
    for (const PositionGroup& group : c_.positions) {
      if (group.part == static_cast<int>(part)) failed += group.failed;
    }
    return failed == 0 ? 0 : bulk_.pieces_per_job.value_or(failed);
  }

  const Case& c_;
  const Bulk& bulk_;
  std::vector<double> jobs_per_year_;
};

double average(const std::vector<double>& values) {
  double total = 0;
  for (const double value : values) total += value;
  return total / static_cast<double>(values.size());
}

SwapOut swap_out_of(const Case& c, const Bulk& bulk, const Wants& wants) {
  SwapOut out;
  const auto rates = wants.units_per_year();
  out.repair_days = bulk.repair_days
                        ? *bulk.repair_days
                        : lead_days_of_one_repair(c, bulk.pieces_per_job) + c.downtime.bench_days.base();
  out.per_week = average(rates) * 7 / days_per_year;
  std::vector<Demand> away;
  for (const double rate : rates) away.push_back(Demand::poisson(rate * out.repair_days / days_per_year));
  const Demand in_repair = Demand::mixture(away);
  out.mean_away = in_repair.mean();
  const int chosen = in_repair.quantile(bulk.cover);
  for (int units = std::max(0, chosen - 2); units <= chosen + 2; ++units) {
    out.rows.push_back({.units = units,
                        .cover = in_repair.at_most(units),
                        .at_hand = units == 0 ? 0.0 : in_repair.at_most(units - 1),
                        .short_units = in_repair.expected_shortage(units),
                        .chosen = units == chosen});
  }
  return out;
}

/// One demand, worked through for every part.
class ScenarioMaker {
 public:
  ScenarioMaker(const Case& c, const Bulk& bulk, const BulkSettings& settings,
                const std::vector<QuotedCase>& quoted, bool referred)
      : c_(c), bulk_(bulk), settings_(settings), quoted_(quoted), referred_(referred) {}

  BulkScenario fleet(const FleetSize& size) const {
    BulkScenario scenario;
    scenario.fleet = true;
    scenario.name = fmt::format("{} devices, {} with a failed part now", size.devices, size.failed);
    const FleetWants wants(c_, size, settings_);
    fill(scenario, wants);
    if (referred_) return scenario;
    const double years = bulk_.years.value_or(years_ahead(c_));
    scenario.policies = policies_of(c_, size, years, settings_.policy_futures, settings_.seed);
    const Demand next_year = wants.fleet().failures_of_all(1.0);
    scenario.policies->failures_next_year = next_year.mean();
    scenario.policies->failures_low = next_year.quantile(0.05);
    scenario.policies->failures_high = next_year.quantile(0.95);
    return scenario;
  }

  BulkScenario shop(const Quantity& jobs) const {
    BulkScenario scenario;
    scenario.name = jobs.is_fixed() ? fmt::format("{} jobs a month", number_text(jobs.base()))
                                    : fmt::format("{} to {} jobs a month", number_text(jobs.low()),
                                                  number_text(jobs.high()));
    const ShopWants wants(c_, bulk_, jobs);
    fill(scenario, wants);
    return scenario;
  }

 private:
  void fill(BulkScenario& scenario, const Wants& wants) const {
    for (std::size_t p = 0; p < c_.parts.size(); ++p) add_part(scenario, wants, p);
    scenario.swap_out = swap_out_of(c_, bulk_, wants);
  }

  void add_part(BulkScenario& scenario, const Wants& wants, std::size_t p) const {
    const Part& part = c_.parts[p];
    const double shelf = part.shelf_life_years.base();
    const double usual = scenario.fleet ? years_ahead(c_) : shelf;
    LadderDemand demand;
    demand.years = std::min(bulk_.years.value_or(usual), shelf);
    demand.shelf_years = shelf;
    const Demand later = wants.pieces(p, demand.years);
    const int now = wants.now(p);
    if (later.mean() == 0 && now == 0) return;
    demand.period = later.shifted(now);
    demand.per_year = later.mean() / demand.years;
    if (settings_.until) demand.until = wants.pieces(p, *settings_.until).shifted(now);
    scenario.demand.push_back({.part = part.name,
                               .years = demand.years,
                               .shelf_years = shelf,
                               .now = now,
                               .mean = demand.period.mean(),
                               .deviation = std::sqrt(demand.period.variance()),
                               .low = demand.period.quantile(0.05),
                               .median = demand.period.quantile(0.5),
                               .high = demand.period.quantile(0.95),
                               .per_year = demand.per_year});
    for (int i = 0; i < static_cast<int>(part.candidates.size()); ++i) {
      add_ladder(scenario, wants, demand, c_, p, i, "");
      for (const QuotedCase& quoted : quoted_) {
        if (quoted.part == static_cast<int>(p) && quoted.candidate == i)
          add_ladder(scenario, wants, demand, quoted.c, p, i, quoted.quotation);
      }
    }
  }

  void add_ladder(BulkScenario& scenario, const Wants& wants, LadderDemand demand, const Case& c,
                  std::size_t part, int candidate, const std::string& quotation) const {
    demand.within = [&wants, part](double years) { return wants.pieces(part, years); };
    // A quotation does not change what being short costs.
    Bulk bulk = bulk_;
    if (!bulk.shortage_cost) bulk.shortage_cost = usual_shortage_cost(c_, static_cast<int>(part));
    BulkLadder ladder = ladder_of(c, static_cast<int>(part), candidate, bulk, demand, settings_.quantities);
    ladder.quotation = quotation;
    scenario.ladders.push_back(std::move(ladder));
  }

  const Case& c_;
  const Bulk& bulk_;
  const BulkSettings& settings_;
  const std::vector<QuotedCase>& quoted_;
  bool referred_;
};

[[noreturn]] void refuse(const Case& c, const std::string& key, const std::string& message,
                         const std::string& remedy) {
  throw InputError({{c.source_name, 0, 0, key, message, remedy}});
}

void check(const Case& c, const BulkSettings& settings) {
  if (!c.bulk)
    refuse(c, "bulk", "the case has no section [bulk]",
           "add [bulk] with devices = 40 and failed = 9, or with jobs_per_month = 6");
  if (c.parts.empty() || c.suppliers.empty())
    refuse(c, "bulk", "the case buys no parts", "a part needs an offer of a supplier");
  if (settings.futures < 16 || settings.policy_futures < 16)
    throw std::invalid_argument("a fleet wants at least 16 futures");
  if (!settings.devices.empty() && !c.bulk->devices)
    refuse(c, "bulk.devices", "the case is about a shop, and other sizes of a fleet are asked for",
           "ask for other --jobs-per-month");
  if (!settings.jobs.empty() && c.bulk->devices)
    refuse(c, "bulk.jobs_per_month", "the case is about a fleet, and other numbers of jobs are asked for",
           "ask for other --devices");
  if (settings.devices.size() > most_scenarios || settings.jobs.size() > most_scenarios)
    refuse(c, "bulk", fmt::format("more than {} demands side by side", most_scenarios),
           "ask for fewer at a time");
}

/// A shop's demand must stay within what is worth a table.
void check_jobs(const Case& c, const BulkSettings& settings) {
  if (c.bulk->devices) return;
  double jobs = settings.jobs.empty() ? c.bulk->jobs_per_month->high() : 0;
  for (const double asked : settings.jobs) jobs = std::max(jobs, asked);
  double years = settings.until.value_or(0.0);
  for (const Part& part : c.parts) {
    const double shelf = part.shelf_life_years.base();
    years = std::max(years, std::min(c.bulk->years.value_or(shelf), shelf));
  }
  int each = c.bulk->pieces_per_job.value_or(1);
  for (const PositionGroup& group : c.positions) each = std::max(each, group.failed);
  if (jobs * months_per_year * years * each <= most_pieces) return;
  refuse(c, "bulk.jobs_per_month",
         fmt::format("{} jobs a month with {} pieces each come to more than {} pieces in {} years",
                     number_text(jobs), each, number_text(most_pieces), number_text(years)),
         "ask about a shorter time, or about less");
}

std::vector<FleetSize> sizes_of(const Case& c, const BulkSettings& settings) {
  const Bulk& bulk = *c.bulk;
  std::vector<FleetSize> sizes;
  if (settings.devices.empty()) sizes.push_back({*bulk.devices, bulk.failed});
  for (const int devices : settings.devices) {
    // The same share of failed ones, at least the device of the case.
    const double failed = static_cast<double>(bulk.failed) * devices / *bulk.devices;
    sizes.push_back({devices, std::clamp(static_cast<int>(std::lround(failed)), 1, devices)});
  }
  int places = 0;
  for (const PositionGroup& group : c.positions) places += group.count;
  for (const FleetSize& size : sizes) {
    if (static_cast<double>(size.devices) * places <= most_places) continue;
    refuse(c, "bulk.devices",
           fmt::format("{} devices with {} positions each; a fleet may have {} positions in all",
                       size.devices, places, number_text(most_places)),
           "ask for a part of the fleet");
  }
  return sizes;
}

bool is_referred(const Case& c, const RateBook& rates) {
  return std::any_of(c.device.hazards.begin(), c.device.hazards.end(), [&](const std::string& hazard) {
    const auto known = rates.hazards.find(hazard);
    return known != rates.hazards.end() && known->second.licensed_only;
  });
}

void add_notes(BulkAnswer& answer, const Case& c, bool referred) {
  if (referred) {
    answer.notes.emplace_back(
        "Work on this device is for licensed people or a qualified place: nothing is said here of doing it.");
  }
  if (c.bulk->devices) {
    answer.notes.emplace_back(
        "All devices are taken to be like that of the case: same age, same use. What fails again in its turn "
        "is in "
        "the policies, but not in the pieces to buy.");
    if (c.fault.cause != Cause::wear) {
      answer.notes.emplace_back(
          "The failures are not from wear: they say nothing of the other devices' lives, and the survivors' "
          "chances "
          "rest on the rates and on their having survived.");
    }
  }
  answer.notes.emplace_back(
      "Pieces that are dead on arrival or do not fit are not counted here: try one before buying many.");
  for (const Part& part : c.parts) {
    if (c.bulk->years && *c.bulk->years > part.shelf_life_years.base()) {
      answer.notes.push_back(
          fmt::format("'{}' keeps {} years: a single purchase is judged until then, not for {} years.",
                      part.name, number_text(part.shelf_life_years.base()), number_text(*c.bulk->years)));
    }
  }
}

}  // namespace

BulkAnswer bulk_what_if(const Case& c, const RateBook& rates, const BulkSettings& settings) {
  mendworth::check(c);
  check(c, settings);
  const Bulk& bulk = *c.bulk;
  const auto quoted = quoted_cases(c, settings.quotations);
  BulkAnswer answer;
  answer.source_name = c.source_name;
  answer.device = c.device.name;
  answer.currency = c.device.currency;
  answer.minor_digits = c.device.minor_digits;
  answer.cover = bulk.cover;
  answer.until = settings.until.value_or(0.0);
  answer.order_cost = bulk.order_cost;
  answer.carrying_rate = bulk.carrying_rate;
  check_jobs(c, settings);
  const bool referred = is_referred(c, rates);
  const ScenarioMaker maker(c, bulk, settings, quoted, referred);
  if (bulk.devices) {
    for (const FleetSize& size : sizes_of(c, settings)) answer.scenarios.push_back(maker.fleet(size));
  } else if (settings.jobs.empty()) {
    answer.scenarios.push_back(maker.shop(*bulk.jobs_per_month));
  } else {
    for (const double jobs : settings.jobs) answer.scenarios.push_back(maker.shop(Quantity::exactly(jobs)));
  }
  add_notes(answer, c, referred);
  for (const DefaultUse& used : c.defaults) {
    const bool bears = used.key.starts_with("bulk.") || used.key.starts_with("part.") ||
                       used.key.starts_with("supplier.") || used.key.starts_with("downtime.") ||
                       used.key.starts_with("horizon.");
    if (bears) answer.defaults.push_back({used.key, used.value, used.source});
  }
  return answer;
}

}  // namespace mendworth
