#include "answers/what_if.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "model/pricing.hpp"

namespace mendworth {
namespace {

constexpr int first_rerun_futures = 128;
constexpr int most_rerun_futures = 1024;
constexpr std::size_t most_repair_contenders = 6;
// A rerun is sharp enough when its standard error is this part of the saving, of its change, or of a cost.
constexpr double enough_of_saving = 1.0 / 16.0;
constexpr double enough_of_cost = 1.0 / 128.0;

/// A contender under a change: its cost over all futures by regression on its cost as things are, which is known over
/// all futures, and in each rerun future what the regression leaves unexplained.
class Regression {
 public:
  /// as_is begins with the futures that `changed` holds; `level` is the mean of as_is over all futures.
  Regression(const std::vector<double>& changed, const std::vector<double>& as_is, double level)
      : changed_(changed), as_is_(as_is) {
    const auto n = static_cast<double>(changed.size());
    double mean = 0, mean_as_is = 0;
    for (std::size_t f = 0; f < changed.size(); ++f) {
      mean += changed[f] / n;
      mean_as_is += as_is[f] / n;
    }
    double squares = 0, products = 0;
    for (std::size_t f = 0; f < changed.size(); ++f) {
      squares += (as_is[f] - mean_as_is) * (as_is[f] - mean_as_is);
      products += (as_is[f] - mean_as_is) * (changed[f] - mean);
    }
    if (squares > 0) slope_ = products / squares;
    cost_ = mean + slope_ * (level - mean_as_is);
  }
  [[nodiscard]] double cost() const noexcept { return cost_; }
  [[nodiscard]] double residual(std::size_t f) const { return changed_[f] - slope_ * as_is_[f]; }

 private:
  const std::vector<double>& changed_;
  const std::vector<double>& as_is_;
  double slope_ = 1, cost_ = 0;
};

/// Standard error of the difference of two contenders' costs.
double paired_error(const Regression& a, const Regression& b, int futures) {
  double sum = 0, squares = 0;
  const auto n = static_cast<std::size_t>(futures);
  for (std::size_t f = 0; f < n; ++f) sum += a.residual(f) - b.residual(f);
  for (std::size_t f = 0; f < n; ++f) {
    const double off = a.residual(f) - b.residual(f) - sum / futures;
    squares += off * off;
  }
  return futures > 1 ? std::sqrt(squares / (futures - 1.0) / futures) : 0.0;
}

}  // namespace

WhatIf::WhatIf(const Contest& contest, ModelCache& cache, const WeighSettings& settings)
    : contest_(contest), cache_(cache), settings_(settings), mean_costs_(contest.mean_costs()) {
  saving_ = mean_costs_[contest.best_replacement(mean_costs_).value()] -
            mean_costs_[contest.best_repair(mean_costs_).value()];
  rerun_futures_ = std::min(settings.futures, most_rerun_futures);
  sharp_enough_ = enough_of_cost * std::abs(mean_costs_[contest.best_replacement(mean_costs_).value()]);

  const auto add = [&](std::size_t i) {
    contenders_.push_back(contest.options[i]);
    fallbacks_.push_back(contest.fallbacks[i]);
    levels_.push_back(mean_costs_[i]);
  };
  std::vector<std::size_t> repairs;
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    if (contest.is_priced_replacement(i)) {
      add(i);
    } else if (contest.is_repair(i)) {
      repairs.push_back(i);
    }
  }
  std::stable_sort(repairs.begin(), repairs.end(),
                   [this](std::size_t a, std::size_t b) { return mean_costs_[a] < mean_costs_[b]; });
  // The best of each family, then the best family with its other limits (which share its runs), then the next best.
  std::vector<std::size_t> picked;
  const auto take = [&](std::size_t i) {
    if (picked.size() < most_repair_contenders &&
        std::find(picked.begin(), picked.end(), i) == picked.end()) {
      picked.push_back(i);
    }
  };
  std::vector<Family> families;
  for (const std::size_t i : repairs) {
    const Family family = contest.options[i].plan.family;
    if (std::find(families.begin(), families.end(), family) != families.end()) continue;
    families.push_back(family);
    take(i);
  }
  for (const std::size_t i : repairs) {
    if (contest.options[i].plan.family == families.front()) take(i);
  }
  for (const std::size_t i : repairs) take(i);
  for (const std::size_t i : picked) add(i);
  as_is_ = run(contest.model, 0, rerun_futures_, settings.threads).costs;
}

Ensemble WhatIf::run(const DeviceModel& model, int first, int count, int threads) const {
  return run_ensemble(model, contest_.book, contenders_, fallbacks_,
                      {.seed = settings_.seed,
                       .first_future = first,
                       .futures = count,
                       .threads = threads,
                       .keep_costs = true,
                       .keep_items = false,
                       .draw_prices = false});
}

std::vector<double> WhatIf::repriced_costs(const Case& changed) const {
  std::vector<UnitCost> unit;
  price_items(changed, contest_.model.layout, unit);
  price_orders(changed, contest_.model.layout, contest_.book, Suppliers::best_at_hand, unit);
  std::vector<double> costs = mean_costs_;
  for (std::size_t item = 0; item < unit.size(); ++item) {
    const double difference = unit[item].total() - contest_.unit[item].total();
    if (difference == 0.0) continue;
    for (std::size_t o = 0; o < costs.size(); ++o) {
      costs[o] += difference * contest_.ensemble.mean_amount(o, static_cast<int>(item));
    }
  }
  return costs;
}

double WhatIf::repriced_saving(const Case& changed) const {
  const auto costs = repriced_costs(changed);
  return costs[contest_.best_replacement(costs).value()] - costs[contest_.best_repair(costs).value()];
}

double WhatIf::rerun_saving(const Case& changed, const Hypothesis& hypothesis) const {
  const auto model = DeviceModel::make(changed, hypothesis, cache_);
  std::vector<std::vector<double>> costs(contenders_.size());
  for (int done = 0;;) {
    const int next = std::min(rerun_futures_, std::max(first_rerun_futures, 2 * done));
    const auto ensemble = run(model, done, next - done, 1);
    std::optional<Regression> repair, replacement;
    for (std::size_t o = 0; o < contenders_.size(); ++o) {
      costs[o].insert(costs[o].end(), ensemble.costs[o].begin(), ensemble.costs[o].end());
      const Regression contender(costs[o], as_is_[o], levels_[o]);
      auto& best = contenders_[o].kind == OptionKind::replacement ? replacement : repair;
      if (!best || contender.cost() < best->cost()) best.emplace(contender);
    }
    done = next;
    const double saving = replacement->cost() - repair->cost();
    const double enough =
        std::max(sharp_enough_, enough_of_saving * std::max(std::abs(saving), std::abs(saving - saving_)));
    if (done == rerun_futures_ || paired_error(*replacement, *repair, done) <= enough) return saving;
  }
}

}  // namespace mendworth
