#include "quote/margin_moves.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "answers/knobs.hpp"
#include "domain/inputs.hpp"
#include "futures/parallel.hpp"

namespace mendworth {
namespace {

constexpr int most_futures = 1024;
constexpr double assumed_part = 0.2;  // a number stated as certain is tried 20 % either way

struct Trial {
  MarginRow row;
  std::optional<Knob> knob;                        ///< of the case
  std::function<void(ShopCosts&, double)> shop{};  ///< else of the shop file
};

MarginRow row_of(const std::string& key, const std::string& label, const Quantity& value, double most) {
  MarginRow row{.key = key, .label = label, .low = value.low(), .base = value.base(), .high = value.high()};
  row.uncertain = !value.is_fixed();
  if (!row.uncertain) {
    row.low = row.base * (1.0 - assumed_part);
    row.high = std::min(row.base * (1.0 + assumed_part), std::max(most, row.base));
  }
  return row;
}

std::vector<Trial> trials_of(const Case& c, const ShopCosts& costs) {
  std::vector<Trial> trials;
  constexpr double no_limit_above = 1e300;
  for_each_quantity(c, [&](const std::string& key, const Quantity& value) {
    const Input& input = input_of(key);
    if (input.bears_on == BearsOn::prospect) return;  // a job's futures are not weighed ahead
    if (value.is_fixed() && (!input.tried || value.base() == 0.0)) return;
    if (is_idle(c, value)) return;
    Knob knob = entry_knob(c, key, value);
    MarginRow row = row_of(key, knob.label, value, input.limits.high);
    trials.push_back({.row = std::move(row), .knob = std::move(knob)});
  });
  const auto add_shop = [&](const char* key, const std::string& label, const Quantity& value, double most,
                            Quantity ShopCosts::*member) {
    if (value.is_fixed() && value.base() == 0.0) return;
    trials.push_back(
        {.row = row_of(key, label, value, most),
         .knob = std::nullopt,
         .shop = [member](ShopCosts& changed, double x) { changed.*member = Quantity::exactly(x); }});
  };
  add_shop("shop.labour.cost_rate", fmt::format("cost of an hour ({})", c.device.currency), costs.cost_rate,
           no_limit_above, &ShopCosts::cost_rate);
  add_shop("shop.workmanship.come_back", "chance of a complaint of the work", costs.come_back, 1.0,
           &ShopCosts::come_back);
  if (costs.come_back.base() > 0) {
    add_shop("shop.workmanship.come_back_minutes", "minutes for a complaint", costs.come_back_minutes,
             no_limit_above, &ShopCosts::come_back_minutes);
  }
  return trials;
}

}  // namespace

std::vector<MarginRow> margin_moves(const Case& c, const OrderBook& book, const JobPlan& plan,
                                    const JobFuturesSettings& wanted, const JobIncome& income,
                                    const ShopCosts& costs, double margin, std::size_t most) {
  JobFuturesSettings settings = wanted;
  settings.futures = std::min(settings.futures, most_futures);
  settings.threads = 1;  // the trials share the threads
  ModelCache cache;
  const auto as_is = run_job(c, book, plan, settings, cache);
  const double base = margins_of(as_is, income, costs, settings.seed).mean();

  std::vector<Trial> trials = trials_of(c, costs);
  for_each_parallel(static_cast<int>(trials.size()), wanted.threads, [&](int, int i) {
    Trial& trial = trials[static_cast<std::size_t>(i)];
    const auto margin_at = [&](double x) {
      if (!trial.knob) {
        ShopCosts changed = costs;
        trial.shop(changed, x);
        return margin + margins_of(as_is, income, changed, settings.seed).mean() - base;
      }
      Case changed = c;
      Hypothesis none;
      trial.knob->turn(changed, none, x);
      const auto futures = run_job(changed, book, plan, settings, cache);
      return margin + margins_of(futures, income, costs, settings.seed).mean() - base;
    };
    trial.row.margin_low = margin_at(trial.row.low);
    trial.row.margin_high = margin_at(trial.row.high);
    trial.row.swing = std::abs(trial.row.margin_high - trial.row.margin_low);
  });

  std::vector<MarginRow> rows;
  const double minor_unit = std::pow(10.0, -c.device.minor_digits);
  for (Trial& trial : trials) {
    if (trial.row.swing >= minor_unit) rows.push_back(std::move(trial.row));
  }
  std::ranges::stable_sort(rows, std::ranges::greater{}, &MarginRow::swing);
  if (rows.size() > most) rows.resize(most);
  return rows;
}

}  // namespace mendworth
