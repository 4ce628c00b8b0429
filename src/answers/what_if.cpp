#include "answers/what_if.hpp"

#include <algorithm>
#include <limits>

#include "model/pricing.hpp"

namespace mendworth {
namespace {

constexpr int most_rerun_futures = 512;
constexpr std::size_t most_repair_contenders = 6;

}  // namespace

WhatIf::WhatIf(const Contest& contest, ModelCache& cache, const WeighSettings& settings)
    : contest_(contest), cache_(cache), settings_(settings), mean_costs_(contest.mean_costs()) {
  saving_ = mean_costs_[contest.best_replacement(mean_costs_).value()] -
            mean_costs_[contest.best_repair(mean_costs_).value()];
  rerun_futures_ = std::min(settings.futures, most_rerun_futures);

  std::vector<std::size_t> repairs;
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    if (contest.is_priced_replacement(i)) {
      contenders_.push_back(contest.options[i]);
      fallbacks_.push_back(contest.fallbacks[i]);
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
  for (const std::size_t i : picked) {
    contenders_.push_back(contest.options[i]);
    fallbacks_.push_back(contest.fallbacks[i]);
  }
  rerun_base_ = rerun(contest.model.c, Hypothesis{});
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

double WhatIf::rerun(const Case& c, const Hypothesis& hypothesis) const {
  const auto model = DeviceModel::make(c, hypothesis, cache_);
  const auto ensemble = run_ensemble(model, contest_.book, contenders_, fallbacks_,
                                     {.seed = settings_.seed,
                                      .futures = rerun_futures_,
                                      .threads = settings_.threads,
                                      .draw_prices = false});
  double repair = std::numeric_limits<double>::infinity();
  double replacement = repair;
  for (std::size_t i = 0; i < contenders_.size(); ++i) {
    double& best = contenders_[i].kind == OptionKind::replacement ? replacement : repair;
    best = std::min(best, ensemble.mean_cost(i));
  }
  return replacement - repair;
}

double WhatIf::rerun_saving(const Case& changed, const Hypothesis& hypothesis) const {
  return saving_ + rerun(changed, hypothesis) - rerun_base_;
}

}  // namespace mendworth
