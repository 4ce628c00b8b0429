#include "answers/what_if.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth {
namespace {

constexpr int few_futures = 768, few_choice_futures = 256, few_worth_futures = 256;
constexpr std::int64_t few_steps = 20'000;

struct Mean {
  double mean = 0, error = 0;
};

Mean mean_of(const std::vector<double>& values) {
  const auto n = static_cast<double>(values.size());
  double sum = 0, squares = 0;
  for (const double v : values) sum += v;
  for (const double v : values) squares += (v - sum / n) * (v - sum / n);
  return {sum / n, n > 1 ? std::sqrt(squares / (n - 1) / n) : 0.0};
}

/// Best replacement minus best repair in each future.
std::vector<double> savings_of(const Contest& contest) {
  const auto costs = contest.mean_costs();
  const auto& repair = contest.ensemble.costs[contest.best_repair(costs).value()];
  const auto& replacement = contest.ensemble.costs[contest.best_replacement(costs).value()];
  std::vector<double> savings(repair.size());
  for (std::size_t f = 0; f < savings.size(); ++f) savings[f] = replacement[f] - repair[f];
  return savings;
}

}  // namespace

Effort full_effort(const WeighSettings& settings) { return {.futures = settings.futures}; }

SavingValue saving_of(const Contest& contest) {
  const Mean mean = mean_of(savings_of(contest));
  return {mean.mean, mean.error};
}

WhatIf::WhatIf(const Contest& contest, const RateBook& rates, ModelCache& cache,
               const WeighSettings& settings)
    : rates_(rates),
      cache_(cache),
      settings_(settings),
      rough_{.futures = std::min(settings.futures, few_futures),
             .choice_futures = few_choice_futures,
             .worth_futures = few_worth_futures,
             .most_steps = few_steps,
             .draw_prices = false},
      now_(saving_of(contest)) {
  settings_.threads = 1;
  as_is_ = rough_savings(contest.model.c, {});
}

std::vector<double> WhatIf::rough_savings(const Case& c, const Hypothesis& hypothesis) const {
  return savings_of(Contest(c, rates_, hypothesis, settings_, rough_, cache_));
}

SavingValue WhatIf::roughly(const Case& changed, const Hypothesis& hypothesis) const {
  std::vector<double> difference = rough_savings(changed, hypothesis);
  for (std::size_t f = 0; f < difference.size(); ++f) difference[f] -= as_is_[f];
  const Mean mean = mean_of(difference);
  return {now_.saving + mean.mean, std::hypot(now_.error, mean.error)};
}

SavingValue WhatIf::exactly(const Case& changed, const Hypothesis& hypothesis) const {
  return saving_of(Contest(changed, rates_, hypothesis, settings_, full_effort(settings_), cache_));
}

}  // namespace mendworth
