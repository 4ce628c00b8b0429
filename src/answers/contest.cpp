#include "answers/contest.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/pricing.hpp"

namespace mendworth {
namespace {

// Purchases of one plan are told apart on few futures: they share nearly all of what happens.
constexpr int most_first_futures = 2048;
constexpr double decisive_errors = 5.0;  ///< of the distance between two options over the same futures

constexpr int screening_budget = 80'000;  ///< options times futures, in one round
constexpr int least_screening = 128;
constexpr int most_screening = 4096;
constexpr int screening_rounds = 4;
constexpr double screening_errors = 3.5;  ///< of the distance to the best purchase of the same plan
constexpr int fallback_futures = 1024;

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
                                      .futures = std::min(settings.futures, fallback_futures),
                                      .threads = settings.threads,
                                      .keep_items = false,
                                      .draw_prices = false});
  std::size_t best = 0;
  for (std::size_t i = 1; i < options.size(); ++i) {
    if (ensemble.mean_cost(i) < ensemble.mean_cost(best)) best = i;
  }
  return options[best].replacement;
}

/// How far one option lies behind another over the same futures.
struct Distance {
  double mean = 0, error = 0;
  double covariance = 0;  ///< of the distance with the cost of the option in front
};

Distance distance_between(const std::vector<double>& behind, const std::vector<double>& front) {
  const auto n = static_cast<double>(front.size());
  double distance = 0, cost = 0;
  for (std::size_t f = 0; f < front.size(); ++f) {
    distance += behind[f] - front[f];
    cost += front[f];
  }
  distance /= n;
  cost /= n;
  double squares = 0, products = 0;
  for (std::size_t f = 0; f < front.size(); ++f) {
    const double off = behind[f] - front[f] - distance;
    squares += off * off;
    products += off * (front[f] - cost);
  }
  return {.mean = distance, .error = std::sqrt(squares / (n - 1.0) / n), .covariance = products / (n - 1.0)};
}

/// The best purchase of each plan, in rounds: all of them on a few futures, then those that these cannot tell from the
/// best on as many more as the budget allows. Purchases that cost the same in every future count as one.
std::vector<Option> screen(const Contest& contest, const std::vector<std::vector<Option>>& groups,
                           int fallback, const WeighSettings& settings) {
  struct Entry {
    const Option* option;
    std::size_t group;
  };
  std::vector<Entry> entries;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    for (const auto& option : groups[g]) entries.push_back({&option, g});
  }
  const auto run = [&] {
    std::vector<Option> options;
    for (const auto& entry : entries) options.push_back(*entry.option);
    const int futures =
        std::clamp(screening_budget / static_cast<int>(options.size()), least_screening, most_screening);
    return run_ensemble(contest.model, contest.book, options, std::vector<int>(options.size(), fallback),
                        {.seed = settings.seed,
                         .futures = std::min(futures, settings.futures),
                         .threads = settings.threads,
                         .keep_costs = true,
                         .keep_items = false,
                         .draw_prices = false});
  };
  // Equal within rounding: keep the earlier one, which buys less.
  const auto best_of_groups = [&](const Ensemble& ensemble) {
    std::vector<std::size_t> best(groups.size(), entries.size());
    for (std::size_t i = 0; i < entries.size(); ++i) {
      auto& leader = best[entries[i].group];
      if (leader == entries.size() || ensemble.mean_cost(i) < ensemble.mean_cost(leader) - 1e-9) leader = i;
    }
    return best;
  };
  std::vector<Option> chosen;
  for (int round = 1; entries.size() > groups.size(); ++round) {
    const auto ensemble = run();
    const auto best = best_of_groups(ensemble);
    if (round == screening_rounds) {
      for (const std::size_t i : best) chosen.push_back(*entries[i].option);
      return chosen;
    }
    std::vector<Entry> close;
    for (std::size_t i = 0; i < entries.size(); ++i) {
      const auto distance = distance_between(ensemble.costs[i], ensemble.costs[best[entries[i].group]]);
      const bool equal =
          i != best[entries[i].group] && std::abs(distance.mean) <= 1e-9 && distance.error <= 1e-9;
      if (!equal && distance.mean <= screening_errors * distance.error + 1e-9) close.push_back(entries[i]);
    }
    entries = std::move(close);
  }
  for (const auto& entry : entries) chosen.push_back(*entry.option);
  return chosen;
}

/// Every option on a part of the futures; then all futures for those that may be the best of their kind. One that is
/// left out cannot come to the front, as the same futures tell the two apart; its cost is the leader's over all
/// futures plus its distance over the first ones, which is far more exact than its own mean over the first ones.
Ensemble run_all(const Contest& contest, const WeighSettings& settings) {
  EnsembleSettings wanted{.seed = settings.seed,
                          .futures = std::min(settings.futures, most_first_futures),
                          .threads = settings.threads,
                          .keep_costs = true};
  Ensemble first = run_ensemble(contest.model, contest.book, contest.options, contest.fallbacks, wanted);
  if (wanted.futures == settings.futures || contest.unpriced) {
    wanted.futures = settings.futures;
    return first.futures == settings.futures
               ? first
               : run_ensemble(contest.model, contest.book, contest.options, contest.fallbacks, wanted);
  }

  std::vector<double> means;
  for (std::size_t i = 0; i < contest.options.size(); ++i) means.push_back(first.mean_cost(i));
  const auto repair = contest.best_repair(means);
  const auto replacement = contest.best_replacement(means);
  struct Left {
    std::size_t option, leader;
    Distance distance;
  };
  std::vector<Left> left;
  std::vector<std::size_t> finalists;
  std::vector<Option> options;
  std::vector<int> fallbacks;
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    const auto& leader = contest.is_repair(i)               ? repair
                         : contest.is_priced_replacement(i) ? replacement
                                                            : std::optional<std::size_t>(i);
    const auto distance = distance_between(first.costs[i], first.costs[leader.value()]);
    if (distance.mean > decisive_errors * distance.error) {
      left.push_back({i, *leader, distance});
      continue;
    }
    finalists.push_back(i);
    options.push_back(contest.options[i]);
    fallbacks.push_back(contest.fallbacks[i]);
  }
  wanted.futures = settings.futures;
  Ensemble all = run_ensemble(contest.model, contest.book, options, fallbacks, wanted);
  std::vector<double> leaders_first(contest.options.size());
  for (const auto& l : left) leaders_first[l.leader] = first.mean_cost(l.leader);
  first.futures = settings.futures;
  for (std::size_t k = 0; k < finalists.size(); ++k) {
    const std::size_t i = finalists[k];
    first.tallies[i] = std::move(all.tallies[k]);
    first.costs[i] = std::move(all.costs[k]);
    first.errors[i] = all.errors[k];
    first.runs[i] = settings.futures;
  }
  for (const auto& [i, leader, distance] : left) {
    const double shift = first.mean_cost(leader) - leaders_first[leader];
    first.tallies[i].shift_cost(shift * first.runs[i]);
    first.costs[i].clear();
    // Variance of mean distance + the leader's mean, the first futures being part of all.
    const double variance = distance.error * distance.error + first.errors[leader] * first.errors[leader] +
                            2.0 * distance.covariance / settings.futures;
    first.errors[i] = std::sqrt(std::max(variance, 0.0));
  }
  return first;
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
  forget_unused_orders(contest.book, contest.options);
  price_items(contest.model.c, contest.model.layout, contest.unit);
  price_orders(contest.model.c, contest.model.layout, contest.book, Suppliers::as_chosen, contest.unit);
  contest.ensemble = run_all(contest, settings);
}

}  // namespace mendworth
