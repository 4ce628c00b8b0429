#pragma once

#include <cmath>

#include "answers/contest.hpp"
#include "futures/ensemble.hpp"
#include "support/case_builder.hpp"

/// Cases bare of everything but one process, and runs of single options, for checks against closed forms.
namespace mendworth::test {

/// One position whose part lasts Weibull(scale_years, shape); nothing else ever fails, nothing is uncertain, and
/// neither time nor parts cost anything unless the test sets it.
inline Case one_position(double scale_years, double shape, double horizon, double rate) {
  Case c = minimal_case();
  c.device.age_years = exactly(1);
  c.device.use_per_day = exactly(1.0 / 365.25);  // one operation a year: cycles are years
  for (LifePrior* life : {&c.parts[0].life, &c.parts[0].candidates[0].life}) {
    life->shape = exactly(shape);
    life->failed_at_rated = 0.10;
    life->rated_life = exactly(scale_years * std::pow(-std::log1p(-0.10), 1.0 / shape));
  }
  c.rest.remaining_years = exactly(1e6);
  c.rest.shape = exactly(1);
  c.replacements[0].life_years = exactly(1e6);
  c.replacements[0].life_shape = exactly(1);
  c.horizon.years = exactly(horizon);
  c.horizon.discount_rate = exactly(rate);
  return c;
}

/// A case with all that its runs need, and plain plans: the first candidate first, the others after it.
struct Bench {
  ModelCache cache;
  DeviceModel model;
  OrderBook book;
  std::vector<Option> plans;  ///< families without and with a spare
  Items items;
  std::vector<UnitCost> unit;
  Chains chains;

  explicit Bench(const Case& c)
      : model(DeviceModel::make(c, Hypothesis{}, cache)),
        book(model.c, pieces_by_part(model.c, model.positions, every_position())),
        plans(plain_plans()),
        items(model.c, book.size()),
        unit(unit_costs(model.c, items, book)),
        chains(model.c, items, unit, cache) {}

  [[nodiscard]] Scene scene() const { return {model, items, book, chains}; }
  /// A family's plan that repairs again so many times and keeps so many spares, 0 or 1.
  [[nodiscard]] Option plan(Family family, int limit, int spares = 0) const {
    for (const Option& known : plans) {
      const auto& supply = known.plan.supplies[0];
      if (known.plan.family != family || (supply.hedge_pieces == -1) != (spares == 1)) continue;
      Option option = known;
      option.plan.supplies[0].hedge_pieces = 0;
      option.plan.rule.limit = limit;
      return option;
    }
    throw std::logic_error("no such plan");
  }
  [[nodiscard]] Ensemble run(const Option& option, int futures, int threads = 1) const {
    return run_ensemble(scene(), {option},
                        {.seed = 7, .futures = futures, .threads = threads, .keep_costs = true});
  }

 private:
  [[nodiscard]] std::vector<int> every_position() const {
    std::vector<int> all;
    for (std::size_t i = 0; i < model.positions.size(); ++i) all.push_back(static_cast<int>(i));
    return all;
  }
  std::vector<Option> plain_plans() {
    const Case& c = model.c;
    std::vector<Option> made;
    for (const Family family : {Family::failed_only, Family::failed_and_mates, Family::every_original}) {
      const auto groups = family == Family::failed_only        ? std::vector<int>{}
                          : family == Family::failed_and_mates ? mates_of_failed(c)
                                                               : groups_with_originals(c);
      for (const int spares : {0, 1}) {
        Option option;
        option.plan.family = family;
        option.plan.renew_now = renewed_with(model.positions, groups);
        option.plan.mates_later = family != Family::failed_only;
        option.plan.supplies.resize(c.parts.size());
        const auto pieces = pieces_by_part(c, model.positions, option.plan.renew_now);
        std::vector<Need> needs;
        for (std::size_t p = 0; p < c.parts.size(); ++p) {
          for (std::size_t k = 0; k < c.parts[p].candidates.size(); ++k)
            option.plan.supplies[p].trial.push_back(static_cast<int>(k));
          const int missing = pieces[p] + spares - c.parts[p].candidates[0].on_hand;
          if (pieces[p] > 0 && missing > 0) needs.push_back({static_cast<int>(p), 0, missing});
        }
        if (!needs.empty()) {
          auto order = cheapest_order(c, needs, c.downtime.per_day.base(), Parcel::with_other_goods);
          if (!order) continue;
          for (const OrderItem& item : order->items)
            option.plan.supplies[static_cast<std::size_t>(item.part)].first_pieces += item.quantity;
          option.plan.first_order = book.enter(std::move(*order));
        }
        if (spares == 1) option.plan.supplies[0].hedge_pieces = -1;  // marks the plan, see plan()
        made.push_back(std::move(option));
      }
    }
    return made;
  }
};

}  // namespace mendworth::test
