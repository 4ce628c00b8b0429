#include "answers/contest.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "model/pricing.hpp"

namespace mendworth {
namespace {

// Purchases of one plan are told apart on few futures: they share nearly all of what happens.
constexpr int screening_budget = 400'000;  ///< options times futures
constexpr int least_screening = 512;
constexpr int most_screening = 4096;

bool needs_licence(const Case& c, const RateBook& rates) {
  return std::any_of(c.device.hazards.begin(), c.device.hazards.end(), [&](const std::string& name) {
    const auto found = rates.hazards.find(name);
    return found != rates.hazards.end() && found->second.licensed_only;
  });
}

/// The replacement bought when a device is lost: the one with the least cost of its own, priced ones first.
int choose_fallback(const Contest& contest, const WeighSettings& settings) {
  const auto& c = contest.model.c;
  if (c.device.must_keep || c.replacements.empty()) return -1;
  if (contest.unpriced) return 0;
  std::vector<Option> options;
  std::vector<int> fallbacks;
  for (int r = 0; r < static_cast<int>(c.replacements.size()); ++r) {
    if (!c.replacements[static_cast<std::size_t>(r)].price) continue;
    options.push_back({.kind = OptionKind::replacement, .replacement = r});
    fallbacks.push_back(r);
  }
  if (options.size() == 1) return options.front().replacement;
  const auto ensemble = run_ensemble(contest.model, contest.book, options, fallbacks,
                                     {.seed = settings.seed,
                                      .futures = std::min(settings.futures, most_screening),
                                      .threads = settings.threads,
                                      .draw_prices = false});
  std::size_t best = 0;
  for (std::size_t i = 1; i < options.size(); ++i) {
    if (ensemble.mean_cost(i) < ensemble.mean_cost(best)) best = i;
  }
  return options[best].replacement;
}

/// The best purchase of each plan.
std::vector<Option> screen(const Contest& contest, const std::vector<std::vector<Option>>& groups,
                           int fallback, const WeighSettings& settings) {
  std::vector<Option> all;
  for (const auto& group : groups) all.insert(all.end(), group.begin(), group.end());
  std::vector<Option> chosen;
  if (all.size() == groups.size()) return all;
  const int futures =
      std::clamp(screening_budget / static_cast<int>(all.size()), least_screening, most_screening);
  const auto ensemble = run_ensemble(contest.model, contest.book, all, std::vector<int>(all.size(), fallback),
                                     {.seed = settings.seed,
                                      .futures = std::min(futures, settings.futures),
                                      .threads = settings.threads,
                                      .draw_prices = false});
  std::size_t next = 0;
  for (const auto& group : groups) {
    std::size_t best = next;
    // Equal within rounding: keep the earlier one, which buys less.
    for (std::size_t i = next; i < next + group.size(); ++i) {
      if (ensemble.mean_cost(i) < ensemble.mean_cost(best) - 1e-9) best = i;
    }
    chosen.push_back(all[best]);
    next += group.size();
  }
  return chosen;
}

}  // namespace

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
  for (int r = 0; r < static_cast<int>(model.c.replacements.size()); ++r) {
    const auto& replacement = model.c.replacements[static_cast<std::size_t>(r)];
    if (replacement.price) continue;
    for (const Phase phase : {Phase::first, Phase::luck, Phase::later}) {
      weight += ensemble.mean_amount(option, model.layout.device(r, phase)) * (1.0 + replacement.tax.base());
    }
  }
  return weight;
}

void hold(Contest& contest, const RateBook& rates, const WeighSettings& settings, ModelCache& cache) {
  const Case c = contest.model.c;
  contest.model = DeviceModel::make(c, Hypothesis{}, cache);
  contest.referred = needs_licence(c, rates);
  contest.unpriced =
      !c.device.must_keep && std::none_of(c.replacements.begin(), c.replacements.end(),
                                          [](const Replacement& r) { return r.price.has_value(); });
  std::vector<std::vector<Option>> groups;
  if (contest.referred) {
    for (auto& option : licensed_options(c)) groups.push_back({std::move(option)});
  } else {
    groups = repair_options(contest.model.c, contest.book, contest.notes);
  }
  const int fallback = choose_fallback(contest, settings);

  if (!c.device.must_keep) {
    for (int r = 0; r < static_cast<int>(c.replacements.size()); ++r) {
      contest.options.push_back({.kind = OptionKind::replacement, .replacement = r});
      contest.fallbacks.push_back(r);
    }
  }
  if (c.fault.burden_per_year) {
    contest.options.push_back({.kind = OptionKind::leave});
    contest.fallbacks.push_back(fallback);
  } else {
    contest.notes.push_back(
        "Leaving the fault as it is was not weighed: fault.burden_per_year, what living with it costs a "
        "year, is "
        "not given.");
  }
  for (auto& option : screen(contest, groups, fallback, settings)) {
    contest.options.push_back(std::move(option));
    contest.fallbacks.push_back(fallback);
  }
  price_items(contest.model.c, contest.model.layout, contest.unit);
  price_orders(contest.model.c, contest.model.layout, contest.book, Suppliers::as_chosen, contest.unit);
  contest.ensemble = run_ensemble(
      contest.model, contest.book, contest.options, contest.fallbacks,
      {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads, .keep_costs = true});
}

}  // namespace mendworth
