#include "answers/bulk_scenario.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <set>
#include <utility>

#include "answers/bulk_fleet.hpp"
#include "answers/bulk_ladder.hpp"
#include "answers/bulk_policies.hpp"
#include "answers/bulk_purchase.hpp"
#include "answers/bulk_quotations.hpp"

namespace mendworth {
namespace {

double average(const std::vector<double>& values) {
  double total = 0;
  for (const double value : values) total += value;
  return total / static_cast<double>(values.size());
}

SwapOut swap_out_of(const Case& c, const Wants& wants) {
  const Bulk& bulk = *c.bulk;
  SwapOut out;
  const auto rates = wants.units_per_year();
  out.repair_days = bulk.repair_days
                        ? *bulk.repair_days
                        : lead_days_of_one_repair(c, bulk.pieces_per_job) + c.downtime.bench_days.base();
  out.per_week = average(rates) * 7 / days_per_year;
  out.broken_now = wants.failed_devices();
  std::vector<Demand> away;
  for (const double rate : rates) away.push_back(Demand::poisson(rate * out.repair_days / days_per_year));
  const Demand in_repair = Demand::mixture(away);
  // Just before they are back, those that failed meanwhile are away as well.
  const Demand at_first = in_repair.shifted(out.broken_now);
  out.mean_away = in_repair.mean();
  out.units = in_repair.quantile(bulk.cover);
  out.units_at_first = at_first.quantile(bulk.cover);
  std::set<int> shown;
  for (const int units : {out.units, out.units_at_first}) {
    for (int i = std::max(0, units - 2); i <= units + 2; ++i) shown.insert(i);
  }
  for (const int units : shown) {
    out.rows.push_back({.units = units,
                        .cover = in_repair.at_most(units),
                        .at_hand = units == 0 ? 0.0 : in_repair.at_most(units - 1),
                        .short_units = in_repair.expected_shortage(units),
                        .cover_at_first = at_first.at_most(units)});
  }
  return out;
}

/// What is to be done about one part, of whose ladders there is at least one.
BulkChoice choice_of(const std::vector<BulkLadder>& ladders, const PartDemand& demand) {
  struct Least {
    std::optional<double> cost;
    std::size_t ladder = 0;
    void take(double value, std::size_t index) {
      if (cost && value >= *cost) return;
      cost = value;
      ladder = index;
    }
  };
  Least once, again;
  for (std::size_t i = 0; i < ladders.size(); ++i) {
    if (ladders[i].part != demand.part) continue;
    once.take(ladders[i].best.cost, i);
    if (ladders[i].repeated) again.take(ladders[i].repeated->cost, i);
  }
  BulkChoice choice;
  choice.part = demand.part;
  choice.years = demand.years;
  choice.again = again.cost && *again.cost < *once.cost;
  const Least& chosen = choice.again ? again : once;
  choice.ladder = chosen.ladder;
  choice.cost = *chosen.cost;
  choice.other = choice.again ? once.cost : again.cost;
  return choice;
}

/// The case with a candidate from one supplier alone.
Case sold_by_one(const Case& c, std::size_t part, int candidate, int supplier) {
  Case one = c;
  std::erase_if(one.parts[part].candidates[static_cast<std::size_t>(candidate)].offers,
                [&](const Offer& offer) { return offer.supplier != supplier; });
  return one;
}

/// One demand, worked through for every part.
class ScenarioMaker {
 public:
  ScenarioMaker(const Case& c, const BulkSettings& settings, const Wants& wants)
      : c_(c),
        bulk_(*c.bulk),
        settings_(settings),
        quoted_(quoted_cases(c, settings.quotations)),
        wants_(wants) {
    scenario_.name = wants.name();
    scenario_.fleet = wants.fleet() != nullptr;
    scenario_.past_use = wants.past_use();
  }

  BulkScenario make(bool policies) {
    for (std::size_t p = 0; p < c_.parts.size(); ++p) add_part(p, true);
    scenario_.swap_out = swap_out_of(c_, wants_);
    if (policies && scenario_.fleet) add_policies(*wants_.fleet());
    return std::move(scenario_);
  }

  BulkScenario purchases_of(std::size_t part) {
    add_part(part, false);
    return std::move(scenario_);
  }

 private:
  void add_policies(const Fleet& fleet) {
    const double years = bulk_.years.value_or(years_ahead(c_));
    FleetPolicies& policies = scenario_.policies.emplace(
        policies_of(c_, fleet.size(), years, settings_.policy_futures, settings_.seed));
    const Demand next_year = fleet.failures_of_all(1.0);
    policies.failures_next_year = next_year.mean();
    policies.failures_low = next_year.quantile(0.05);
    policies.failures_high = next_year.quantile(0.95);
  }

  void add_part(std::size_t p, bool offers) {
    const Part& part = c_.parts[p];
    const double shelf = part.shelf_life_years.base();
    const double usual = scenario_.fleet ? years_ahead(c_) : shelf;
    LadderDemand demand;
    demand.years = std::min(bulk_.years.value_or(usual), shelf);
    demand.shelf_years = shelf;
    demand.ends = scenario_.fleet || bulk_.years;
    demand.later = wants_.pieces(p, demand.years);
    demand.now = wants_.now(p);
    demand.at_hand = pieces_on_hand(part);
    demand.failed_devices = wants_.failed_devices();
    if (demand.later.mean() == 0 && demand.now == 0) return;
    demand.per_year = demand.later.mean() / demand.years;
    demand.within = [this, p](double years) { return wants_.pieces(p, years); };
    if (settings_.until) demand.until = wants_.pieces(p, *settings_.until).shifted(demand.now);
    const Demand all = demand.later.shifted(demand.now);
    scenario_.demand.push_back({.part = part.name,
                                .years = demand.years,
                                .shelf_years = shelf,
                                .now = demand.now,
                                .mean = all.mean(),
                                .deviation = std::sqrt(all.variance()),
                                .low = all.quantile(0.05),
                                .median = all.quantile(0.5),
                                .high = all.quantile(0.95),
                                .per_year = demand.per_year,
                                .drawer = demand.at_hand});
    // A quotation does not change what being short costs.
    Bulk bulk = bulk_;
    if (!bulk.shortage_cost) bulk.shortage_cost = usual_shortage_cost(c_, static_cast<int>(p));
    for (int i = 0; i < static_cast<int>(part.candidates.size()); ++i) {
      for_each_source(p, i, [&](const Case& c, const std::string& quotation) {
        scenario_.ladders.push_back(ladder_of(c, static_cast<int>(p), i, bulk, demand, settings_.quantities));
        scenario_.ladders.back().quotation = quotation;
      });
    }
    if (part.candidates.empty()) return;
    scenario_.choices.push_back(choice_of(scenario_.ladders, scenario_.demand.back()));
    if (offers) add_offers(p, bulk, demand);
  }

  /// The case's own offers of a candidate, and each quotation for it.
  template <class Use>
  void for_each_source(std::size_t part, int candidate, Use use) const {
    use(c_, std::string());
    for (const QuotedCase& quoted : quoted_) {
      if (quoted.part == static_cast<int>(part) && quoted.candidate == candidate)
        use(quoted.c, quoted.quotation);
    }
  }

  /// Each supplier and each quotation by itself, at the quantities that any of them is shown at.
  void add_offers(std::size_t p, const Bulk& bulk, const LadderDemand& demand) {
    std::set<int> wanted;
    for (const BulkLadder& ladder : scenario_.ladders) {
      if (ladder.part != c_.parts[p].name) continue;
      for (const BulkRow& row : ladder.rows) wanted.insert(std::max(row.quantity, 1));
    }
    const std::vector<int> quantities(wanted.begin(), wanted.end());
    std::vector<BulkOffer> offers;
    const auto add = [&](const Case& c, int candidate, const std::string& supplier,
                         const std::string& quotation) {
      offers.push_back(compared_offer(c, static_cast<int>(p), candidate, bulk, demand, quantities));
      offers.back().supplier = supplier;
      offers.back().quotation = quotation;
    };
    const auto& candidates = c_.parts[p].candidates;
    for (int i = 0; i < static_cast<int>(candidates.size()); ++i) {
      for_each_source(p, i, [&](const Case& c, const std::string& quotation) {
        if (!quotation.empty()) return add(c, i, "", quotation);
        std::set<int> suppliers;
        for (const Offer& offer : candidates[static_cast<std::size_t>(i)].offers) {
          if (!suppliers.insert(offer.supplier).second) continue;
          add(sold_by_one(c, p, i, offer.supplier), i,
              c.suppliers[static_cast<std::size_t>(offer.supplier)].name, "");
        }
      });
    }
    if (offers.size() > 1) std::move(offers.begin(), offers.end(), std::back_inserter(scenario_.offers));
  }

  const Case& c_;
  const Bulk& bulk_;
  const BulkSettings& settings_;
  std::vector<QuotedCase> quoted_;
  const Wants& wants_;
  BulkScenario scenario_;
};

}  // namespace

BulkScenario scenario_of(const Case& c, const BulkSettings& settings, const Wants& wants, bool policies) {
  return ScenarioMaker(c, settings, wants).make(policies);
}

BulkScenario purchases_of(const Case& c, const BulkSettings& settings, const Wants& wants, std::size_t part) {
  return ScenarioMaker(c, settings, wants).purchases_of(part);
}

}  // namespace mendworth
