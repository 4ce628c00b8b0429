#include "mendworth/row_answer.hpp"

#include <algorithm>
#include <cmath>

#include "answers/break_even.hpp"
#include "answers/contest.hpp"
#include "answers/knobs.hpp"
#include "answers/option_results.hpp"
#include "answers/rules.hpp"
#include "answers/settings.hpp"
#include "answers/verdict.hpp"
#include "answers/what_if.hpp"
#include "model/pricing.hpp"

namespace mendworth {

namespace {

/// The price of the best replacement at which the answer turns, that nearest to its own.
std::optional<double> turning_price_of(const Contest& contest, std::size_t repair, std::size_t replacement,
                                       const RateBook& rates, ModelCache& cache,
                                       const WeighSettings& settings) {
  const Knob price = named_knobs(contest, repair, replacement).front();
  const BreakEven found = break_even_of(WhatIf(contest, rates, cache, settings), contest.model.c, price);
  const auto nearest = std::min_element(found.values.begin(), found.values.end(), [&](double a, double b) {
    return std::abs(a - price.current) < std::abs(b - price.current);
  });
  return nearest == found.values.end() ? std::nullopt : std::optional(*nearest);
}

}  // namespace

struct RowAnswerer::Shared {
  const RateBook& rates;
  WeighSettings settings;
  ModelCache cache{};
};

RowAnswerer::RowAnswerer(const RateBook& rates, const WeighSettings& settings)
    : shared_(new Shared{.rates = rates, .settings = checked(settings)}) {}
RowAnswerer::~RowAnswerer() = default;

RowAnswer RowAnswerer::operator()(const Case& c) const {
  check(c);
  Effort effort = effort_for(shared_->settings);
  effort.keep_amounts = true;
  const Contest contest(c, shared_->rates, {}, shared_->settings, effort, shared_->cache);
  std::vector<OptionResult> results;
  for (std::size_t i = 0; i < contest.options.size(); ++i) results.push_back(option_result(contest, i));
  RowAnswer answer;
  answer.currency = c.device.currency;
  answer.minor_digits = c.device.minor_digits;
  double price = 0;
  if (contest.unpriced) {
    answer.turning_price = unpriced_of(results).repair_pays_from;
    price = answer.turning_price.value_or(0.0);
  }
  std::vector<double> costs;
  for (const auto& r : results) costs.push_back(r.present_cost + r.price_weight * price);
  answer.verdict = verdict_of(contest, results, costs);
  if (const auto best = contest.least(costs, [](std::size_t) { return true; }))
    answer.money_now = results[*best].cash_now;
  const auto repair = contest.best_repair(costs);
  const auto replacement = contest.best_replacement(costs);
  if (repair && replacement && answer.verdict.saving)
    answer.turning_price =
        turning_price_of(contest, *repair, *replacement, shared_->rates, shared_->cache, shared_->settings);
  return answer;
}

}  // namespace mendworth
