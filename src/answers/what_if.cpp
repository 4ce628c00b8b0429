#include "answers/what_if.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "answers/settings.hpp"
#include "domain/inputs.hpp"
#include "numeric/mean_error.hpp"

namespace mendworth {
namespace {

constexpr int usual_few_futures = 256;
constexpr int ranking_futures = 512;  ///< behind what would be chosen if something were otherwise
constexpr std::int64_t few_steps = 20'000;
constexpr int glance_futures = 64;
constexpr double surely_dearer = 3.5, errors_beyond_doubt = 6.0;

std::vector<double> difference(const std::vector<double>& a, const std::vector<double>& b) {
  std::vector<double> result;
  for (std::size_t f = 0; f < a.size(); ++f) result.push_back(a[f] - b[f]);
  return result;
}

bool is_replacement(const Course& course) { return course.option.kind == OptionKind::replacement; }

/// The courses of least cost: a repair and a replacement.
struct Best {
  std::size_t repair = 0, replacement = 0;
};

Best best_of(const Courses& courses, const std::vector<double>& costs) {
  Best best;
  double repair = std::numeric_limits<double>::infinity(), replacement = repair;
  for (std::size_t i = 0; i < costs.size(); ++i) {
    const bool replaces = is_replacement(*courses.list[i]);
    double& least = replaces ? replacement : repair;
    if (!(costs[i] < least)) continue;
    least = costs[i];
    (replaces ? best.replacement : best.repair) = i;
  }
  return best;
}

/// The options that are not surely dearer than the cheapest one.
std::vector<Option> kept(const std::vector<Option>& options, const std::vector<std::vector<double>>& costs) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < costs.size(); ++i) {
    if (mean_of(costs[i]).mean < mean_of(costs[best]).mean) best = i;
  }
  std::vector<Option> left;
  for (std::size_t i = 0; i < costs.size(); ++i) {
    const MeanError behind = mean_difference(costs[i], costs[best]);
    if (i == best || behind.mean <= surely_dearer * behind.error) left.push_back(options[i]);
  }
  return left;
}

std::vector<double> totals(const std::vector<UnitCost>& unit) {
  std::vector<double> totals;
  for (const UnitCost& each : unit) totals.push_back(each.total());
  return totals;
}

}  // namespace

WhatIf::WhatIf(const Contest& contest, const RateBook& rates, ModelCache& cache,
               const WeighSettings& settings)
    : contest_(contest),
      rates_(rates),
      cache_(cache),
      settings_(settings),
      courses_(Courses::of(contest, settings)) {
  const auto means = contest.mean_costs();
  const std::size_t repair = contest.best_repair(means).value();
  const std::size_t replacement = contest.best_replacement(means).value();
  const MeanError drawn =
      mean_difference(contest.ensemble.costs[replacement], contest.ensemble.costs[repair]);
  now_ = {drawn.mean, drawn.error};

  for_each_quantity(contest.model.c, [&](const std::string& key, const Quantity& value) {
    const BearsOn on = input_of(key).bears_on;
    numbers_.push_back(
        {.value = value, .bears_on_events = !bears_on_price(on), .bears_on_orders = on == BearsOn::purchase});
  });
  const auto unit = totals(contest.unit);
  for (const std::size_t i : {replacement, repair}) {
    double cost = 0;
    for (int item = 0; item < contest.items.size(); ++item)
      cost += contest.ensemble.mean_amount(i, item) * unit[static_cast<std::size_t>(item)];
    at_base_ += i == replacement ? cost : -cost;
  }
  const auto base = run_ensemble(contest.scene(), {contest.options[replacement], contest.options[repair]},
                                 {.seed = settings.seed,
                                  .futures = few_futures(),
                                  .threads = settings.threads,
                                  .keep_costs = true,
                                  .keep_items = false,
                                  .draw_prices = false});
  as_is_ = difference(base.costs[0], base.costs[1]);
  settings_.threads = 1;
}

int WhatIf::few_futures() const noexcept { return std::min(contest_.ensemble.futures, usual_few_futures); }

WhatIf::Reach WhatIf::reach_of(const Case& changed, const Hypothesis& hypothesis) const {
  Reach reach{.events = hypothesis.mate_wear != 1.0 || hypothesis.no_evidence};
  std::size_t i = 0;
  for_each_quantity(changed, [&](const std::string&, const Quantity& value) {
    if (i < numbers_.size() && !(value == numbers_[i].value)) {
      reach.events = reach.events || numbers_[i].bears_on_events;
      reach.orders = reach.orders || numbers_[i].bears_on_orders;
    }
    ++i;
  });
  reach.events = reach.events || i != numbers_.size();
  return reach;
}

/// Absent where other prices change what happens: another replacement follows, other orders can be had.
std::optional<SavingValue> WhatIf::repriced(const Courses& courses, const Case& changed, bool orders) const {
  std::optional<OrderBook> anew;
  if (orders) {
    anew = courses.book_at(changed);
    if (!anew) return std::nullopt;
  }
  const OrderBook& book = anew ? *anew : courses.book;
  const Items items(changed, book.size());
  const auto unit = unit_costs(changed, items, book);
  const Chains chains(changed, items, unit, &contest_.chains);
  if (chains.best() != contest_.chains.best()) return std::nullopt;
  const auto each = totals(unit);
  std::vector<double> costs;
  for (const auto& course : courses.list) costs.push_back(course->cost(each));
  const Best best = best_of(courses, costs);
  const auto bought = courses.list[best.replacement]->costs(each);
  const double few = mean_difference(bought, courses.list[best.repair]->costs(each)).error;
  return SavingValue{
      now_.saving + costs[best.replacement] - costs[best.repair] - at_base_,
      few * std::sqrt(static_cast<double>(bought.size()) / static_cast<double>(contest_.ensemble.futures))};
}

/// The courses in a changed case.
class WhatIf::Changed {
 public:
  Changed(const WhatIf& what_if, const Courses& courses, const Case& changed, const Hypothesis& hypothesis)
      : settings_(what_if.settings_),
        model_(DeviceModel::make(changed, hypothesis, what_if.cache_)),
        book_(courses.book_at(changed).value_or(courses.book)),
        items_(changed, book_.size()),
        unit_(unit_costs(changed, items_, book_)),
        chains_(changed, items_, unit_, &what_if.contest_.chains) {
    for (const auto& course : courses.list)
      (is_replacement(*course) ? replacements_ : repairs_).push_back(course->option);
  }

  /// The best repair and the best replacement over so many futures.
  struct Compared {
    Option repair, replacement;
    std::vector<double> savings;  ///< by future
  };
  [[nodiscard]] Compared best_over(int futures) const {
    // What a few futures show to be surely dearer is not looked at with care.
    std::vector<Option> options = repairs_;
    for (const int few : {glance_futures, usual_few_futures}) {
      if (few < futures && options.size() > 1) options = kept(options, run(options, few).costs);
    }
    const std::size_t first_replacement = options.size();
    options.insert(options.end(), replacements_.begin(), replacements_.end());
    const Ensemble ensemble = run(options, futures);
    const auto least = [&](std::size_t from, std::size_t to) {
      std::size_t best = from;
      for (std::size_t i = from; i < to; ++i) {
        if (ensemble.mean_cost(i) < ensemble.mean_cost(best)) best = i;
      }
      return best;
    };
    const std::size_t repair = least(0, first_replacement),
                      replacement = least(first_replacement, options.size());
    return {options[repair], options[replacement],
            difference(ensemble.costs[replacement], ensemble.costs[repair])};
  }
  [[nodiscard]] Ensemble run(const std::vector<Option>& options, int futures) const {
    return run_ensemble({model_, items_, book_, chains_}, options,
                        {.seed = settings_.seed,
                         .futures = futures,
                         .threads = 1,
                         .keep_costs = true,
                         .keep_items = false,
                         .draw_prices = false});
  }
  [[nodiscard]] double stake(const Compared& compared) const {
    return stake_of(model_, book_, {&compared.repair, &compared.replacement});
  }

 private:
  const WeighSettings& settings_;
  DeviceModel model_;
  OrderBook book_;
  Items items_;
  std::vector<UnitCost> unit_;
  Chains chains_;
  std::vector<Option> repairs_, replacements_;
};

SavingValue WhatIf::saving(const Courses& courses, const Case& changed, const Hypothesis& hypothesis) const {
  const Reach reach = reach_of(changed, hypothesis);
  if (!reach.events) {
    if (const auto value = repriced(courses, changed, reach.orders)) return *value;
  }
  return controlled(Changed(*this, courses, changed, hypothesis).best_over(few_futures()).savings);
}

SavingValue WhatIf::side(const Courses& courses, const Case& changed, const Hypothesis& hypothesis) const {
  const Reach reach = reach_of(changed, hypothesis);
  if (!reach.events) {
    if (const auto value = repriced(courses, changed, reach.orders)) return *value;
  }
  const Changed there(*this, courses, changed, hypothesis);
  const auto at_a_glance = controlled(there.best_over(std::min(glance_futures, few_futures())).savings);
  if (std::abs(at_a_glance.saving) > errors_beyond_doubt * at_a_glance.error) return at_a_glance;
  return controlled(there.best_over(few_futures()).savings);
}

SavingValue WhatIf::weighed(const Courses& courses, const Case& changed, const Hypothesis& hypothesis) const {
  const Changed there(*this, courses, changed, hypothesis);
  const int first = settings_.futures > 0 ? settings_.futures : effort_for(settings_).first_futures;
  const auto compared = there.best_over(first);
  MeanError found = mean_of(compared.savings);
  const int wanted =
      settings_.futures > 0 ? first : futures_wanted(found, there.stake(compared), first, settings_);
  if (wanted > static_cast<int>(compared.savings.size())) {
    const Ensemble more = there.run({compared.replacement, compared.repair}, wanted);
    found = mean_difference(more.costs[0], more.costs[1]);
  }
  return {found.mean, found.error};
}

/// The mean of savings in the first futures, with what is known of all futures of the case as it is: a regression on its
/// savings in the same futures. Source: A. M. Law, Simulation Modeling and Analysis, section 11.4 (control variates).
SavingValue WhatIf::controlled(const std::vector<double>& savings) const {
  const auto n = static_cast<double>(savings.size());
  const double mean = mean_of(savings).mean;
  double mean_as_is = 0, joint = 0, squares = 0;
  for (std::size_t f = 0; f < savings.size(); ++f) mean_as_is += as_is_[f] / n;
  for (std::size_t f = 0; f < savings.size(); ++f) {
    joint += (savings[f] - mean) * (as_is_[f] - mean_as_is);
    squares += (as_is_[f] - mean_as_is) * (as_is_[f] - mean_as_is);
  }
  const double slope = squares > 0 ? joint / squares : 0.0;
  std::vector<double> left;
  for (std::size_t f = 0; f < savings.size(); ++f) left.push_back(savings[f] - slope * as_is_[f]);
  return {mean + slope * (now_.saving - mean_as_is), std::hypot(mean_of(left).error, slope * now_.error)};
}

Courses WhatIf::with_best_of(const Courses& courses, const Case& changed,
                             const Hypothesis& hypothesis) const {
  const Contest other(changed, rates_, hypothesis, settings_,
                      {.futures = at_most(ranking_futures, settings_),
                       .choice_futures = ranking_futures,
                       .worth_futures = ranking_futures / 2,
                       .most_steps = few_steps,
                       .draw_prices = false,
                       .best_plan_only = true},
                      cache_);
  return courses.with(other, contest_, settings_);
}

}  // namespace mendworth
