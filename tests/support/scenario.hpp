#pragma once

#include <cmath>

#include "answers/contest.hpp"
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
  c.rest.remaining_years = exactly(1e9);
  c.rest.shape = exactly(1);
  c.replacements[0].life_years = exactly(1e9);
  c.replacements[0].life_shape = exactly(1);
  c.horizon.years = exactly(horizon);
  c.horizon.discount_rate = exactly(rate);
  return c;
}

/// A model with its options, alive together.
struct Bench {
  ModelCache cache;
  DeviceModel model;
  OrderBook book;
  std::vector<std::string> notes;
  std::vector<std::vector<Option>> groups;

  explicit Bench(const Case& c)
      : model(DeviceModel::make(c, Hypothesis{}, cache)),
        book(model.c),
        groups(repair_options(model.c, book, notes)) {}

  /// The plan of a family and limit that buys least.
  [[nodiscard]] const Option& plan(Family family, int limit) const {
    for (const auto& group : groups) {
      if (group.front().plan.family == family && group.front().plan.later_limit == limit)
        return group.front();
    }
    throw std::logic_error("no such plan");
  }
  [[nodiscard]] Ensemble run(const Option& option, int futures, int threads = 1) const {
    const int fallback = model.c.replacements.empty() ? -1 : 0;
    return run_ensemble(model, book, {option}, {fallback},
                        {.seed = 7, .futures = futures, .threads = threads, .keep_costs = true});
  }
};

}  // namespace mendworth::test
