#include "quote/owner.hpp"

#include <algorithm>
#include <cmath>

#include "answers/labels.hpp"
#include "futures/stopping.hpp"
#include "futures/watch.hpp"

namespace mendworth {
namespace {

constexpr int rule_futures = 1024;

/// The case as its owner pays for it: later work at the shop's rate. Setting up a new device stays as dear as it was.
Case owner_case(const Case& c, double charge_rate) {
  Case owner = c;
  const double own_rate = c.labour.rate_per_hour.base();
  owner.labour.rate_per_hour = Quantity::exactly(charge_rate);
  for (Replacement& replacement : owner.replacements) {
    if (charge_rate > 0) replacement.setup_minutes = replacement.setup_minutes.scaled(own_rate / charge_rate);
  }
  return owner;
}

/// What of an item the owner does not pay: the shop's work and purchases of the first repair, and the stock.
enum class Share { all, wait_only, none };

std::vector<Share> owner_shares(const Items& items) {
  std::vector<Share> shares(static_cast<std::size_t>(items.size()), Share::all);
  const auto set = [&shares](int item, Share share) { shares[static_cast<std::size_t>(item)] = share; };
  set(items.case_work, Share::none);
  const auto set_first = [&](const ByPhase& item) {
    set(item[Phase::first], Share::wait_only);
    set(item[Phase::luck], Share::wait_only);
  };
  for (const ByPhase* item :
       {&items.visit, &items.visit_work, &items.mend, &items.second_attempt, &items.dry_fit}) {
    set_first(*item);
  }
  for (const ByPhase& item : items.work) set_first(item);
  for (const ByPhase& item : items.orders) set_first(item);
  for (const Items::OfPart& part : items.parts) {
    for (const int item : {part.used_elsewhere, part.left, part.drawn_use, part.drawn_left})
      set(item, Share::none);
  }
  return shares;
}

double owner_cost(const Tally& tally, const std::vector<Share>& shares) {
  double cost = 0;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const Tally::Sum& sum = tally.items[i];
    if (shares[i] == Share::none) continue;
    cost += sum.downtime;
    if (shares[i] == Share::all) cost += sum.money + sum.labour;
  }
  return cost;
}

/// One thing to run: a choice, or what is done instead.
struct Entry {
  int choice = -1;  ///< -1: instead
  Option option;
};

std::vector<Entry> entries_of(const Contest& contest, const std::vector<JobPlan>& plans) {
  std::vector<Entry> entries;
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    const Option& option = contest.options[i];
    if (contest.is_priced_replacement(i) || option.kind == OptionKind::leave) {
      entries.push_back({.option = option});
      continue;
    }
    if (option.kind != OptionKind::repair) continue;
    for (std::size_t k = 0; k < plans.size(); ++k) {
      if (plans[k].option.plan.renew_now == option.plan.renew_now)
        entries.push_back({.choice = static_cast<int>(k), .option = option});
    }
  }
  return entries;
}

/// The options to run; later repairs by a rule of their own, as what is worth repairing again hangs on what it costs
/// the owner.
std::vector<Option> options_of(const Scene& scene, const std::vector<Entry>& entries,
                               const OwnerSettings& settings) {
  std::vector<Option> options;
  for (const Entry& entry : entries) {
    options.push_back(entry.option);
    if (entry.choice < 0) continue;
    const auto traces = run_traces(scene, entry.option, false,
                                   {.seed = settings.seed,
                                    .futures = std::min(settings.futures, rule_futures),
                                    .threads = settings.threads});
    options.back().plan.rule = fitted_rule(traces, scene.model.c.parts.size());
  }
  return options;
}

/// What the entries cost their owner, and which of them leave the device working, by entry and future.
struct OwnerFutures {
  std::vector<Entry> entries;
  std::vector<std::vector<double>> costs{};
  std::vector<std::vector<char>> cured{};

  /// The cheapest entry of a choice.
  [[nodiscard]] std::size_t least(int choice) const {
    std::size_t best = entries.size();
    for (std::size_t o = 0; o < entries.size(); ++o) {
      if (entries[o].choice == choice && (best == entries.size() || mean(costs[o]) < mean(costs[best])))
        best = o;
    }
    return best;
  }
  template <class T>
  static double mean(const std::vector<T>& values) {
    double sum = 0;
    for (const T v : values) sum += v;
    return sum / static_cast<double>(values.size());
  }
};

void run_owner(OwnerFutures& run, const Scene& scene, const std::vector<Payments>& payments,
               const OwnerSettings& settings) {
  const auto count = static_cast<std::size_t>(settings.futures);
  run.costs.assign(run.entries.size(), std::vector<double>(count));
  run.cured.assign(run.entries.size(), std::vector<char>(count));
  const std::vector<Share> shares = owner_shares(scene.items);
  watch_futures(scene, options_of(scene, run.entries, settings),
                {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads},
                [&](int number, std::size_t o, const Tally& tally, const Future&) {
                  const auto f = static_cast<std::size_t>(number);
                  double cost = owner_cost(tally, shares);
                  if (run.entries[o].choice >= 0) {
                    const Payments& pay = payments[static_cast<std::size_t>(run.entries[o].choice)];
                    const bool works = tally.counts.cured > 0;
                    cost += works ? pay.cured : tally.counts.written_off > 0 ? pay.lost : pay.not_cured;
                    run.cured[o][f] = works ? 1 : 0;
                  } else {
                    cost += settings.declining;
                  }
                  run.costs[o][f] = cost;
                });
}

}  // namespace

OwnerView owner_view(const Contest& contest, const std::vector<JobPlan>& plans,
                     const std::vector<Payments>& payments, const OwnerSettings& settings) {
  OwnerFutures run{.entries = entries_of(contest, plans)};
  const bool comparable = std::ranges::any_of(run.entries, [](const Entry& e) { return e.choice < 0; });
  if (!comparable || contest.unpriced || contest.model.c.device.must_keep) return {};

  ModelCache cache;
  const DeviceModel model =
      DeviceModel::make(owner_case(contest.model.c, settings.charge_rate), Hypothesis{}, cache);
  const Items items(model.c, contest.book.size());
  const Chains chains(model.c, items, unit_costs(model.c, items, contest.book), cache);
  run_owner(run, {model, items, contest.book, chains}, payments, settings);

  OwnerView view;
  const std::size_t instead = run.least(-1);
  view.instead_cost = run.mean(run.costs[instead]);
  view.instead = option_name(contest.model.c, run.entries[instead].option);
  for (std::size_t k = 0; k < plans.size(); ++k) {
    const std::size_t repair = run.least(static_cast<int>(k));
    const MeanError difference = mean_difference(run.costs[instead], run.costs[repair]);
    OwnerView::Saving saving{
        .mean = difference.mean, .error = difference.error, .cure_chance = run.mean(run.cured[repair])};
    std::size_t cheaper = 0;
    for (std::size_t f = 0; f < run.costs[repair].size(); ++f)
      cheaper += run.costs[instead][f] > run.costs[repair][f] ? 1U : 0U;
    saving.cheaper_share = static_cast<double>(cheaper) / static_cast<double>(settings.futures);
    view.savings.push_back(saving);
    view.costs.push_back(run.mean(run.costs[repair]));
  }
  return view;
}

}  // namespace mendworth
