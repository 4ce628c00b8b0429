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
constexpr double errors_beyond_doubt = 6.0;

std::vector<double> difference(const std::vector<double>& a, const std::vector<double>& b) {
  std::vector<double> result;
  for (std::size_t f = 0; f < a.size(); ++f) result.push_back(a[f] - b[f]);
  return result;
}

}  // namespace

WhatIf::WhatIf(const Contest& contest, const RateBook& rates, ModelCache& cache,
               const WeighSettings& settings)
    : contest_(contest),
      rates_(rates),
      cache_(cache),
      settings_(settings),
      courses_(Courses::of(contest, settings.seed)) {
  const auto means = contest.mean_costs();
  const std::size_t repair = repair_ = contest.best_repair(means).value();
  const std::size_t replacement = replacement_ = contest.best_replacement(means).value();
  const MeanError drawn =
      mean_difference(contest.ensemble.costs[replacement], contest.ensemble.costs[repair]);
  now_ = {drawn.mean, drawn.error};

  for_each_input(contest.model.c, [&](const std::string&, const Input& input, const Quantity& value) {
    numbers_.push_back({.value = value,
                        .bears_on_events = !bears_on_price(input.bears_on),
                        .bears_on_orders = input.bears_on == BearsOn::purchase});
  });
  const auto unit = totals(contest.unit);
  for (const std::size_t i : {replacement, repair}) {
    double cost = 0;
    for (int item = 0; item < contest.items.size(); ++item)
      cost += contest.ensemble.mean_amount(i, item) * unit[static_cast<std::size_t>(item)];
    at_base_ += i == replacement ? cost : -cost;
  }
  settings_.threads = 1;
  if (contest.first_store) stores_.push_back(contest.first_store);
}

const std::vector<double>& WhatIf::as_is() const {
  std::call_once(as_is_run_, [this] {
    const auto base =
        run_ensemble(contest_.scene(), {contest_.options[replacement_], contest_.options[repair_]},
                     {.seed = settings_.seed,
                      .futures = few_futures(),
                      .threads = settings_.threads,
                      .keep_costs = true,
                      .keep_items = false,
                      .draw_prices = false});
    as_is_ = difference(base.costs[0], base.costs[1]);
  });
  return as_is_;
}

int WhatIf::few_futures() const noexcept { return std::min(contest_.ensemble.futures, usual_few_futures); }

WhatIf::Reach WhatIf::reach_of(const Case& changed, const Hypothesis& hypothesis) const {
  Reach reach{.events = hypothesis.mate_wear != 1.0 || hypothesis.no_evidence};
  const auto values = quantities_of(changed);
  reach.events = reach.events || values.size() != numbers_.size();
  for (std::size_t i = 0; i < std::min(values.size(), numbers_.size()); ++i) {
    if (*values[i] == numbers_[i].value) continue;
    reach.events = reach.events || numbers_[i].bears_on_events;
    reach.orders = reach.orders || numbers_[i].bears_on_orders;
  }
  return reach;
}

/// The courses at other prices, with what they amount to.
class WhatIf::Repriced {
 public:
  Repriced(const WhatIf& what_if, const Courses& courses, const Case& changed, OrderBook book, Items items,
           std::vector<double> unit)
      : what_if_(what_if),
        courses_(courses),
        changed_(changed),
        book_(std::move(book)),
        items_(std::move(items)),
        unit_(std::move(unit)) {}

  /// Over the futures of the contest, with what it is now.
  [[nodiscard]] SavingValue saving() const {
    const Best best = best_over(what_if_.contest_.ensemble.futures);
    return {what_if_.now_.saving + best.saving.mean - what_if_.at_base_, best.saving.error};
  }
  [[nodiscard]] SavingValue weighed(const Hypothesis& hypothesis) const {
    const Best best = best_over(what_if_.first_futures());
    const DeviceModel model = DeviceModel::make(changed_, hypothesis, what_if_.cache_);
    const int wanted = what_if_.futures_wanted_for(
        best.saving, stake_of(model, book_, {&best.repair->option(), &best.replacement->option()}));
    const MeanError found = saving_of(best, wanted);
    return {found.mean, found.error};
  }

 private:
  /// The courses of least cost.
  struct Best {
    const Course *repair = nullptr, *replacement = nullptr;
    MeanError saving;
  };
  /// What the first futures show to be surely dearer is not counted over more of them.
  [[nodiscard]] Best best_over(int futures) const {
    std::vector<const Course*> left;
    for (const auto& course : courses_.list) left.push_back(course.get());
    const int first = std::min(what_if_.first_futures(), futures);
    const Best found = best_of(left, first);
    if (first == futures) return found;
    std::erase_if(left, [&](const Course* course) {
      const Course& best = course->is_replacement() ? *found.replacement : *found.repair;
      const MeanError behind = difference_of(*course, best, first);
      return behind.mean > surely_dearer * behind.error;
    });
    return best_of(left, futures);
  }
  [[nodiscard]] Best best_of(const std::vector<const Course*>& courses, int futures) const {
    Best best;
    double repair = std::numeric_limits<double>::infinity(), replacement = repair;
    for (const Course* course : courses) {
      const double cost = mean_of(course->amounts(futures).costs(unit_), futures).mean;
      double& least = course->is_replacement() ? replacement : repair;
      if (!(cost < least)) continue;
      least = cost;
      (course->is_replacement() ? best.replacement : best.repair) = course;
    }
    best.saving = saving_of(best, futures);
    return best;
  }
  [[nodiscard]] MeanError saving_of(const Best& best, int futures) const {
    return difference_of(*best.replacement, *best.repair, futures);
  }
  [[nodiscard]] MeanError difference_of(const Course& a, const Course& b, int futures) const {
    RandomisedSums sums = a.amounts(futures).costs(unit_);
    const RandomisedSums less = b.amounts(futures).costs(unit_);
    for (std::size_t r = 0; r < sums.size(); ++r) sums[r] -= less[r];
    return mean_of(sums, futures);
  }

  const WhatIf& what_if_;
  const Courses& courses_;
  const Case& changed_;
  OrderBook book_;
  Items items_;
  std::vector<double> unit_;
};

std::optional<WhatIf::Repriced> WhatIf::repriced(const Courses& courses, const Case& changed,
                                                 const Hypothesis& hypothesis) const {
  const Reach reach = reach_of(changed, hypothesis);
  if (reach.events) return std::nullopt;
  auto book = reach.orders ? courses.book_at(changed) : std::optional(courses.book);
  if (!book) return std::nullopt;
  Items items(changed, book->size());
  const auto unit = unit_costs(changed, items, *book);
  if (Chains(changed, items, unit, cache_).best() != contest_.chains.best()) return std::nullopt;
  return Repriced(*this, courses, changed, std::move(*book), std::move(items), totals(unit));
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
        chains_(changed, items_, unit_, what_if.cache_) {
    for (const auto& course : courses.list)
      (course->is_replacement() ? replacements_ : repairs_).push_back(course->option());
  }

  /// The best repair and the best replacement over so many futures.
  struct Compared {
    Option repair, replacement;
    std::vector<double> savings;  ///< by future
  };
  [[nodiscard]] Compared best_over(int futures) const {
    // What a few futures show to be surely dearer is not run through more of them.
    std::vector<Tried> repairs = tried(repairs_), replacements = tried(replacements_);
    int done = 0;
    for (const int so_many : {glance_futures, usual_few_futures, futures}) {
      const int wanted = std::min(so_many, futures);
      if (wanted == done) continue;
      run_on(repairs, replacements, done, wanted);
      done = wanted;
      if (done < futures) drop_surely_dearer(repairs);
    }
    const Tried &repair = *cheapest(repairs), &replacement = *cheapest(replacements);
    return {repair.option, replacement.option, difference(replacement.costs, repair.costs)};
  }
  [[nodiscard]] Ensemble run(const std::vector<Option>& options, int futures, int from = 0) const {
    return run_ensemble({model_, items_, book_, chains_}, options,
                        {.seed = settings_.seed,
                         .futures = futures,
                         .from = from,
                         .threads = 1,
                         .keep_costs = true,
                         .keep_items = false,
                         .draw_prices = false});
  }
  [[nodiscard]] double stake(const Compared& compared) const {
    return stake_of(model_, book_, {&compared.repair, &compared.replacement});
  }

 private:
  /// A course with its costs by future so far.
  struct Tried {
    Option option;
    std::vector<double> costs{};
  };
  [[nodiscard]] static std::vector<Tried> tried(const std::vector<Option>& options) {
    std::vector<Tried> all;
    for (const Option& option : options) all.push_back({option});
    return all;
  }
  void run_on(std::vector<Tried>& repairs, std::vector<Tried>& replacements, int from, int to) const {
    std::vector<Option> options;
    for (const auto* list : {&repairs, &replacements}) {
      for (const Tried& each : *list) options.push_back(each.option);
    }
    const Ensemble ensemble = run(options, to, from);
    auto costs = ensemble.costs.begin();
    for (auto* list : {&repairs, &replacements}) {
      for (Tried& each : *list) {
        each.costs.insert(each.costs.end(), costs->begin(), costs->end());
        ++costs;
      }
    }
  }
  [[nodiscard]] static std::vector<Tried>::const_iterator cheapest(const std::vector<Tried>& list) {
    return std::min_element(list.begin(), list.end(), [](const Tried& a, const Tried& b) {
      return mean_of(a.costs).mean < mean_of(b.costs).mean;
    });
  }
  static void drop_surely_dearer(std::vector<Tried>& list) {
    const std::vector<double> least = cheapest(list)->costs;
    std::erase_if(list, [&](const Tried& each) {
      const MeanError behind = mean_difference(each.costs, least);
      return behind.mean > surely_dearer * behind.error;
    });
  }

  const WeighSettings& settings_;
  DeviceModel model_;
  OrderBook book_;
  Items items_;
  std::vector<UnitCost> unit_;
  Chains chains_;
  std::vector<Option> repairs_, replacements_;
};

SavingValue WhatIf::saving(const Courses& courses, const Case& changed, const Hypothesis& hypothesis) const {
  if (const auto at_prices = repriced(courses, changed, hypothesis)) return at_prices->saving();
  return controlled(Changed(*this, courses, changed, hypothesis).best_over(few_futures()).savings);
}

SavingValue WhatIf::side(const Courses& courses, const Case& changed, const Hypothesis& hypothesis) const {
  if (const auto at_prices = repriced(courses, changed, hypothesis)) return at_prices->saving();
  const Changed there(*this, courses, changed, hypothesis);
  const auto at_a_glance = controlled(there.best_over(std::min(glance_futures, few_futures())).savings);
  if (std::abs(at_a_glance.saving) > errors_beyond_doubt * at_a_glance.error) return at_a_glance;
  return controlled(there.best_over(few_futures()).savings);
}

int WhatIf::futures_wanted_for(const MeanError& found, double stake) const {
  if (settings_.futures > 0) return settings_.futures;
  return futures_wanted(found, stake, first_futures(), settings_);
}

SavingValue WhatIf::weighed(const Courses& courses, const Case& changed, const Hypothesis& hypothesis) const {
  if (const auto at_prices = repriced(courses, changed, hypothesis)) return at_prices->weighed(hypothesis);
  const Changed there(*this, courses, changed, hypothesis);
  const auto compared = there.best_over(first_futures());
  std::vector<double> savings = compared.savings;
  const int wanted = futures_wanted_for(mean_of(savings), there.stake(compared));
  if (wanted > first_futures()) {
    const Ensemble more = there.run({compared.replacement, compared.repair}, wanted, first_futures());
    const auto further = difference(more.costs[0], more.costs[1]);
    savings.insert(savings.end(), further.begin(), further.end());
  }
  const MeanError found = mean_of(savings);
  return {found.mean, found.error};
}

/// The mean of savings in the first futures, with what is known of all futures of the case as it is: a regression on its
/// savings in the same futures. Source: A. M. Law, Simulation Modeling and Analysis, section 11.4 (control variates).
SavingValue WhatIf::controlled(const std::vector<double>& savings) const {
  const auto n = static_cast<double>(savings.size());
  const std::vector<double>& as_is = this->as_is();
  const double mean = mean_of(savings).mean;
  double mean_as_is = 0, joint = 0, squares = 0;
  for (std::size_t f = 0; f < savings.size(); ++f) mean_as_is += as_is[f] / n;
  for (std::size_t f = 0; f < savings.size(); ++f) {
    joint += (savings[f] - mean) * (as_is[f] - mean_as_is);
    squares += (as_is[f] - mean_as_is) * (as_is[f] - mean_as_is);
  }
  const double slope = squares > 0 ? joint / squares : 0.0;
  std::vector<double> left;
  for (std::size_t f = 0; f < savings.size(); ++f) left.push_back(savings[f] - slope * as_is[f]);
  return {mean + slope * (now_.saving - mean_as_is), std::hypot(mean_of(left).error, slope * now_.error)};
}

Courses WhatIf::with_best_of(const Courses& courses, const Case& changed,
                             const Hypothesis& hypothesis) const {
  // Other prices leave the futures as they are.
  auto store = is_of_prices(changed, hypothesis) ? borrow_store() : nullptr;
  Courses more = courses;
  {
    const Effort usual = effort_for(settings_);
    const Contest other(changed, rates_, hypothesis, settings_,
                        {.futures = at_most(std::min(ranking_futures, usual.first_futures), settings_),
                         .choice_futures = std::min(ranking_futures, usual.choice_futures),
                         .worth_futures = std::min(ranking_futures / 2, usual.worth_futures),
                         .most_steps = few_steps,
                         .draw_prices = false,
                         .best_plan_only = true,
                         .store = store.get()},
                        cache_);
    more = courses.with(other, contest_, settings_.seed);
  }
  if (store) give_back(std::move(store));
  return more;
}

std::shared_ptr<FutureStore> WhatIf::borrow_store() const {
  const std::lock_guard<std::mutex> lock(storing_);
  if (stores_.empty()) return std::make_shared<FutureStore>(contest_.model, settings_.seed, ranking_futures);
  auto store = std::move(stores_.back());
  stores_.pop_back();
  return store;
}

void WhatIf::give_back(std::shared_ptr<FutureStore> store) const {
  const std::lock_guard<std::mutex> lock(storing_);
  stores_.push_back(std::move(store));
}

}  // namespace mendworth
