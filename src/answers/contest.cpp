#include "answers/contest.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "answers/cost_now.hpp"
#include "answers/plan_search.hpp"
#include "answers/settings.hpp"
#include "futures/stopping.hpp"
#include "model/pricing.hpp"

namespace mendworth {
namespace {

constexpr int price_rounds = 4;  ///< to find the price from which on a repair pays, where none is known
constexpr double first_price_factor = 2.0;  ///< of what the repair costs now
constexpr int price_futures = 256;
constexpr int most_futures_run = 65'536;  ///< where precision decides
constexpr double coarse = 0.02;

bool needs_licence(const Case& c, const RateBook& rates) {
  return std::any_of(c.device.hazards.begin(), c.device.hazards.end(), [&](const std::string& name) {
    const auto found = rates.hazards.find(name);
    return found != rates.hazards.end() && found->second.licensed_only;
  });
}

/// The case with this price for every replacement, where none has one.
Case with_price(Case c, double price) {
  for (Replacement& r : c.replacements) r.price = Quantity::exactly(price);
  return c;
}

/// What a new device would have to cost for the best repair to cost as much: found step by step, as the rule for later
/// failures hangs on it.
double price_to_assume(const Case& c, const RateBook& rates, const Hypothesis& hypothesis,
                       const WeighSettings& settings, ModelCache& cache) {
  double price = 0;
  for (const PositionGroup& group : c.positions) price += group.failed;
  price =
      std::max(1.0, first_price_factor *
                        (price + c.labour.rate_per_hour.base() *
                                     (c.labour.case_minutes.base() + c.labour.visit_minutes.base()) / 60.0));
  for (int round = 0; round < price_rounds; ++round) {
    const Contest trial(with_price(c, price), rates, hypothesis, settings,
                        {.futures = at_most(price_futures, settings),
                         .choice_futures = price_futures,
                         .worth_futures = price_futures,
                         .draw_prices = false},
                        cache);
    const auto costs = trial.mean_costs();
    const auto repair = trial.best_repair(costs);
    const auto replacement = trial.best_replacement(costs);
    if (!repair || !replacement) return price;
    // Both costs are linear in the price as long as nothing else is chosen.
    const auto weight = [&](std::size_t option) {
      double devices = 0;
      for (std::size_t r = 0; r < trial.items.devices.size(); ++r) {
        for (const int item : trial.items.devices[r].device.all())
          devices += trial.ensemble.mean_amount(option, item) * paid_per_price(c.replacements[r]);
      }
      return devices;
    };
    const double difference = weight(*replacement) - weight(*repair);
    if (difference <= 0) return price;
    const double next = std::max(0.0, price + (costs[*repair] - costs[*replacement]) / difference);
    if (std::abs(next - price) <= 1e-3 * price) return next;
    price = next;
  }
  return price;
}

}  // namespace

Effort effort_for(const WeighSettings& settings) {
  if (settings.futures == 0 && settings.precision == 0 && settings.precision_share >= coarse)
    return {.first_futures = 256, .choice_futures = 128, .worth_futures = 64};
  return {.futures = settings.futures};
}

int futures_wanted(const MeanError& found, double stake, int first_futures, const WeighSettings& settings) {
  const double precision = settings.precision > 0
                               ? settings.precision
                               : settings.precision_share * std::max(std::abs(stake), std::abs(found.mean));
  int futures = first_futures;
  // The error falls at least as the root of their number.
  for (double error = found.error; error > precision && futures < most_futures_run; error /= std::sqrt(2.0))
    futures *= 2;
  return futures;
}

double stake_of(const DeviceModel& model, const OrderBook& book,
                std::initializer_list<const Option*> options) {
  double stake = 0;
  for (const Option* option : options)
    stake = std::max(stake, cost_now(model, book, *option).total(model.c.labour.rate_per_hour.base()));
  return stake;
}

bool is_unpriced(const Case& c) {
  return !c.device.must_keep && std::none_of(c.replacements.begin(), c.replacements.end(),
                                             [](const Replacement& r) { return r.price.has_value(); });
}

std::vector<int> most_pieces_of(const DeviceModel& model) {
  std::vector<int> most(model.c.parts.size(), 0);
  for (const auto& p : model.positions) ++most[static_cast<std::size_t>(p.part)];
  return most;
}

Contest::Contest(const Case& c, const RateBook& rates, const Hypothesis& hypothesis,
                 const WeighSettings& settings, const Effort& effort, ModelCache& cache)
    : model(DeviceModel::make(
          is_unpriced(c) ? with_price(c, price_to_assume(c, rates, hypothesis, settings, cache)) : c,
          hypothesis, cache)),
      book(model.c, most_pieces_of(model)),
      standing_orders(book.size()),
      items(model.c, book.size()),
      unit(unit_costs(model.c, items, book)),
      chains(model.c, items, unit, cache),
      referred(needs_licence(c, rates)),
      unpriced(is_unpriced(c)),
      settings_(settings),
      effort_(effort) {
  // Options that are found in some futures are run through the same ones.
  if (effort.store == nullptr) {
    first_store = std::make_shared<FutureStore>(
        model, settings.seed, at_most(std::max(effort.choice_futures, effort.worth_futures), settings));
    effort_.store = first_store.get();
  }
  if (unpriced && !model.c.replacements.empty()) assumed_price = model.c.replacements.front().price->base();
  if (!c.device.must_keep) {
    for (int r = 0; r < static_cast<int>(c.replacements.size()); ++r)
      options.push_back({.kind = OptionKind::replacement, .replacement = r});
  }
  if (c.fault.burden_per_year) {
    options.push_back({.kind = OptionKind::leave});
  } else {
    notes.push_back(
        "Leaving the fault as it is was not weighed: fault.burden_per_year, what living with it costs a "
        "year, is not given.");
  }
  if (referred) {
    find_licensed();
  } else {
    for (const auto& part : model.c.parts) {
      if (part.candidates.empty())
        throw std::invalid_argument(fmt::format("the part '{}' has no candidates", part.name));
    }
    find_repairs();
  }
  price();
  run();
  if (first_store) effort_.store = nullptr;  // Threads may now ask for scene().
}

void Contest::price() {
  items = Items(model.c, book.size());
  unit = unit_costs(model.c, items, book);
}

void Contest::find_repairs() {
  auto found = search_plans(model, chains, book, *effort_.store,
                            {.seed = settings_.seed,
                             .threads = settings_.threads,
                             .choice_futures = at_most(effort_.choice_futures, settings_),
                             .worth_futures = at_most(effort_.worth_futures, settings_),
                             .most_steps = effort_.most_steps,
                             .progress = effort_.progress,
                             .best_only = effort_.best_plan_only});
  if (!found.had) {
    notes.push_back("The failed parts cannot be had: no supplier sells as many as are needed at once.");
    return;
  }
  for (Option& option : found.plans) options.push_back(std::move(option));
  if (found.bound) {
    notes.push_back(fmt::format(
        "With more than {} groups of mates not every choice of those to renew was looked at; none can cost "
        "less "
        "than {:.{}f} {} in all.",
        most_groups_by_subset, *found.bound, model.c.device.minor_digits, model.c.device.currency));
  }
}

void Contest::find_licensed() {
  if (!model.c.licensed_repair) return;
  Option option;
  option.kind = OptionKind::licensed_repair;
  option.plan.renew_now = renewed_with(model.positions, {});
  option.plan.supplies.resize(model.c.parts.size());
  price();
  if (!model.c.device.must_keep) {
    const auto traces = run_traces(scene(), option, false,
                                   {.seed = settings_.seed,
                                    .futures = at_most(effort_.choice_futures, settings_),
                                    .threads = settings_.threads});
    option.plan.rule = fitted_rule(traces, model.c.parts.size());
  }
  options.push_back(std::move(option));
}

void Contest::run() {
  const auto run_through = [&](int from, int to) {
    return run_ensemble(scene(), options,
                        {.seed = settings_.seed,
                         .futures = to,
                         .from = from,
                         .threads = settings_.threads,
                         .keep_costs = true,
                         .keep_amounts = effort_.keep_amounts,
                         .draw_prices = effort_.draw_prices});
  };
  ensemble = run_through(0, first_futures());
  first_amounts = ensemble.amounts;
  if (effort_.futures > 0) return;
  const int wanted = futures_to_run();
  if (wanted > first_futures()) ensemble.append(run_through(first_futures(), wanted));
}

int Contest::futures_to_run() const {
  const auto means = mean_costs();
  const auto best = least(means, [](std::size_t) { return true; });
  if (!best) return effort_.first_futures;
  const auto repair = best_repair(means), replacement = best_replacement(means);
  if (!repair || !replacement) {
    const MeanError cost = mean_of(ensemble.costs[*best]);
    return futures_wanted(cost, replacement ? stake_of(model, book, {&options[*replacement]}) : cost.mean,
                          effort_.first_futures, settings_);
  }
  return futures_wanted(mean_difference(ensemble.costs[*replacement], ensemble.costs[*repair]),
                        stake_of(model, book, {&options[*replacement], &options[*repair]}),
                        effort_.first_futures, settings_);
}

Purchase Contest::purchase_of(const Option& option, const std::vector<int>& pieces) const {
  return purchase_for(scene(), unit, option, pieces,
                      {.seed = settings_.seed,
                       .threads = settings_.threads,
                       .futures = at_most(effort_.worth_futures, settings_),
                       .most_steps = effort_.most_steps,
                       .progress = effort_.progress,
                       .spares_rule = option.plan.spares_rule});
}

bool Contest::is_repair(std::size_t option) const {
  const auto kind = options[option].kind;
  return kind == OptionKind::repair || kind == OptionKind::licensed_repair;
}

bool Contest::is_priced_replacement(std::size_t option) const {
  const auto& o = options[option];
  return o.kind == OptionKind::replacement &&
         model.c.replacements[static_cast<std::size_t>(o.replacement)].price;
}

std::optional<std::size_t> Contest::best_repair(const std::vector<double>& costs) const {
  return least(costs, [this](std::size_t i) { return is_repair(i); });
}

std::optional<std::size_t> Contest::best_replacement(const std::vector<double>& costs) const {
  return least(costs, [this](std::size_t i) { return is_priced_replacement(i); });
}

std::vector<double> Contest::mean_costs() const {
  std::vector<double> costs;
  for (std::size_t i = 0; i < options.size(); ++i) costs.push_back(ensemble.mean_cost(i));
  return costs;
}

double Contest::price_weight(std::size_t option) const {
  double weight = 0;
  for (std::size_t r = 0; unpriced && r < items.devices.size(); ++r) {
    for (const int item : items.devices[r].device.all())
      weight += ensemble.mean_amount(option, item) * paid_per_price(model.c.replacements[r]);
  }
  return weight;
}

}  // namespace mendworth
