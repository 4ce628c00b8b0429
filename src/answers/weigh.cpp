#include "mendworth/weigh.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "answers/another_cause.hpp"
#include "answers/break_even.hpp"
#include "answers/contest.hpp"
#include "answers/cost_in_time.hpp"
#include "answers/knowing.hpp"
#include "answers/notes.hpp"
#include "answers/option_results.hpp"
#include "answers/purchase_answer.hpp"
#include "answers/rules.hpp"
#include "answers/saving_grid.hpp"
#include "answers/sensitivity.hpp"
#include "answers/settings.hpp"
#include "answers/survivors.hpp"
#include "answers/verdict.hpp"
#include "futures/parallel.hpp"

namespace mendworth {
namespace {

constexpr std::size_t widest_rows = 5;  ///< that a first screen has

std::vector<std::size_t> widest_of(const std::vector<SensitivityRow>& rows) {
  std::vector<std::size_t> widest(rows.size());
  std::iota(widest.begin(), widest.end(), std::size_t{0});
  std::stable_sort(widest.begin(), widest.end(),
                   [&](std::size_t a, std::size_t b) { return rows[a].swing > rows[b].swing; });
  widest.resize(std::min(widest.size(), widest_rows));
  return widest;
}

/// Break-evens, and the widest rows once more, with what would be chosen at their ends: a contest each, which is most of
/// the work.
void choose_anew(Weighing& w, const WhatIf& what_if, const Case& c, const std::vector<Knob>& knobs,
                 const std::vector<Trial>& trials, int threads) {
  const auto widest = widest_of(w.sensitivity);
  std::vector<std::array<SavingValue, 2>> ends(widest.size());
  // Ends take about as long as each other, so they come last.
  for_each_parallel(static_cast<int>(knobs.size() + 2 * ends.size()), threads, [&](int, int i) {
    const auto job = static_cast<std::size_t>(i);
    if (job < knobs.size()) {
      w.break_evens[job] = break_even_of(what_if, c, knobs[job]);
      return;
    }
    const std::size_t row = (job - knobs.size()) / 2, end = (job - knobs.size()) % 2;
    const Trial& trial = trials[widest[row]];
    ends[row][end] = saving_anew(what_if, c, trial.knob, end == 0 ? trial.low : trial.high);
  });
  for (std::size_t row = 0; row < ends.size(); ++row)
    set_ends(w.sensitivity[widest[row]], what_if.now(), ends[row][0], ends[row][1]);
}

/// Answers that compare a repair with a priced replacement.
void compare(Weighing& w, const Contest& contest, std::size_t repair, std::size_t replacement,
             const MoneyInTime& in_time, const RateBook& rates, ModelCache& cache,
             const WeighSettings& settings) {
  const Case& c = contest.model.c;
  const WhatIf what_if(contest, rates, cache, settings);
  const auto knobs = named_knobs(contest, repair, replacement);
  const auto trials = trials_of(c, knobs);
  w.break_evens.resize(knobs.size());
  w.sensitivity.resize(trials.size());
  // What takes longest begins.
  for_each_parallel(static_cast<int>(1 + trials.size()), settings.threads, [&](int, int i) {
    if (i == 0) {
      w.knowing = knowing_of(contest, repair, replacement, settings);
    } else {
      const auto row = static_cast<std::size_t>(i - 1);
      w.sensitivity[row] = sensitivity_row(what_if, c, trials[row]);
    }
  });
  choose_anew(w, what_if, c, knobs, trials, settings.threads);
  std::stable_sort(w.sensitivity.begin(), w.sensitivity.end(),
                   [](const SensitivityRow& a, const SensitivityRow& b) { return a.swing > b.swing; });
  w.sensitivity_futures = what_if.few_futures();
  if (!settings.against.empty()) w.grid = saving_grid(what_if, c, settings.against, settings.threads);
  const auto repair_result = option_result(contest, repair);
  w.half_price =
      half_price_rule(contest, repair_result, option_result(contest, replacement), what_if.now().saving);
  w.payback = payback_of(contest, repair, replacement, in_time);
  if (contest.options[repair].kind == OptionKind::repair) w.own_time = own_time_of(what_if, c, w.break_evens);
}

}  // namespace

Weighing weigh(const Case& c, const RateBook& rates, const WeighSettings& wanted) {
  check(c);
  const WeighSettings settings = checked(wanted);
  if (!settings.against.empty()) check_grid_keys(c, settings.against);
  ModelCache cache;
  Effort effort = effort_for(settings);
  effort.keep_amounts = settings.what_ifs;
  const Contest contest(c, rates, {}, settings, effort, cache);

  Weighing w;
  w.source_name = c.source_name;
  w.device = c.device.name;
  w.currency = c.device.currency;
  w.minor_digits = c.device.minor_digits;
  if (c.horizon.years) w.need_years = c.horizon.years->base();
  w.years_ahead = years_ahead(c);
  w.discount_rate = c.horizon.discount_rate.base();
  w.costs_are_relative = contest.chains.best() >= 0 && contest.chains.relative();
  w.labour_rate = c.labour.rate_per_hour.base();
  w.settings = settings;
  w.settings.futures = contest.ensemble.futures;
  w.already_spent = c.device.already_spent;

  std::vector<OptionResult> results;
  const MoneyInTime in_time = money_in_time(contest, settings);
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    results.push_back(option_result(contest, i));
    const std::array<double, 3> spans = {1.0, 3.0, 5.0};
    for (std::size_t k = 0; k < spans.size(); ++k)
      results.back().cash_within[k] = in_time.money_within(i, spans[k]);
  }
  if (contest.unpriced) w.unpriced = unpriced_of(results);
  // Without a price options are ranked at the price where the repair begins to pay.
  const double price = contest.unpriced ? w.unpriced->repair_pays_from.value_or(0.0) : 0.0;
  std::vector<double> costs;
  for (const auto& r : results) costs.push_back(r.present_cost + r.price_weight * price);

  const auto repair = contest.best_repair(costs);
  const auto replacement = contest.best_replacement(costs);
  w.verdict = verdict_of(contest, results, costs);
  if (w.verdict.saving) {
    w.saving_bins = saving_bins(contest.ensemble.spread(*repair), contest.ensemble.spread(*replacement));
    w.cost_in_time = cost_in_time(contest, *repair, *replacement, in_time, settings);
  }
  if (repair && contest.options[*repair].kind == OptionKind::repair) {
    auto bought = purchase_answer(contest, *repair, settings);
    w.order = std::move(bought.order);
    if (replacement && settings.what_ifs && !contest.unpriced) {
      compare(w, contest, *repair, *replacement, in_time, rates, cache, settings);
      if (w.order->leftovers > 0) {
        const double worth_each = bought.pieces_used > 0 ? w.order->leftover_value / bought.pieces_used : 0.0;
        w.break_evens.push_back(leftovers_break_even(*w.verdict.saving - w.order->leftover_value, worth_each,
                                                     bought.pieces_used, w.order->leftovers));
      }
    }
  } else if (repair && replacement && settings.what_ifs && !contest.unpriced) {
    compare(w, contest, *repair, *replacement, in_time, rates, cache, settings);
  }
  add_survivors(w, contest, cache, settings);
  w.another_cause = another_cause_of(contest, w.evidence, rates, settings);

  std::vector<std::size_t> ranked(results.size());
  std::iota(ranked.begin(), ranked.end(), std::size_t{0});
  std::stable_sort(ranked.begin(), ranked.end(),
                   [&](std::size_t a, std::size_t b) { return costs[a] < costs[b]; });
  for (const std::size_t i : ranked) w.options.push_back(results[i]);

  if (c.device.guarantee_until && !w.options.empty()) {
    w.guarantee = guarantee_of(c, costs[ranked.front()], settings.today);
  }
  w.cautions = cautions_of(c, rates);
  add_defaults(w, c);
  add_inputs(w, c);
  add_notes(w, contest);
  if (!settings.against.empty() && !w.grid)
    w.notes.emplace_back("No saving over two numbers: it needs a repair and a replacement with a price.");
  return w;
}

}  // namespace mendworth
