#include "answers/plan_search.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "futures/stopping.hpp"

namespace mendworth {
namespace {

constexpr double telling_errors = 4.0;  ///< of the distance of two plans over the same futures
constexpr int first_futures = 128, growth_of_rounds = 4;

using Mask = std::uint64_t;

/// A subset of groups to renew beside what failed, and whether later failures renew mates too.
struct Subset {
  Mask mask = 0;
  bool mates_later = false;
  Option option{};
  double cost = 0;
};

class Search {
 public:
  Search(const DeviceModel& model, const Chains& chains, OrderBook& book, const PlanSearchSettings& settings)
      : model_(model),
        chains_(chains),
        book_(book),
        settings_(settings),
        base_orders_(book.size()),
        groups_(groups_with_originals(model.c)) {}

  PlanSearch run() {
    PlanSearch result;
    price();
    const Option bare = option_of(0, false);
    const Purchase least = purchase_for(
        scene(), unit_, bare, pieces_by_part(c(), model_.positions, bare.plan.renew_now), purchasing());
    if (!least.basket) {
      result.had = false;
      return result;
    }
    supply(c(), least, book_, least_);
    std::vector<Subset> chosen;
    if (groups_.empty()) {
      chosen.push_back({.option = bare});
    } else if (static_cast<int>(groups_.size()) <= most_groups_by_subset) {
      chosen = by_family(every_subset());
    } else {
      chosen = by_family(nested_subsets());
      result.bound = bound();
    }
    book_.shrink(base_orders_);
    by_need_.clear();
    price();
    for (Subset& subset : chosen) {
      Option& option = subset.option;
      option.plan.supplies.clear();
      option.plan.rule = {};
      const bool is_least = subset.mask == 0 && !subset.mates_later;
      const Purchase purchase =
          is_least ? least
                   : purchase_for(scene(), unit_, option,
                                  pieces_by_part(c(), model_.positions, option.plan.renew_now), purchasing());
      if (!purchase.basket) continue;
      supply(c(), purchase, book_, option.plan);
      result.plans.push_back(std::move(option));
    }
    result.had = !result.plans.empty();
    return result;
  }

 private:
  [[nodiscard]] const Case& c() const { return model_.c; }
  [[nodiscard]] Scene scene() const { return {model_, items_, book_, chains_}; }
  [[nodiscard]] PurchasingSettings purchasing() const {
    return {.seed = settings_.seed,
            .threads = settings_.threads,
            .futures = settings_.worth_futures,
            .most_steps = settings_.most_steps};
  }
  void price() {
    items_ = Items(c(), book_.size());
    unit_ = unit_costs(c(), items_, book_);
  }

  [[nodiscard]] Option option_of(Mask mask, bool mates_later) const {
    Option option;
    std::vector<int> groups;
    for (std::size_t i = 0; i < groups_.size(); ++i) {
      if ((mask >> i & 1U) != 0) groups.push_back(groups_[i]);
    }
    option.plan.renew_now = renewed_with(model_.positions, groups);
    option.plan.mates_later = mates_later;
    return option;
  }

  /// The supply of a plan by the pieces that it needs: the cheapest order of the candidates that the plan which renews
  /// least buys. Good enough to tell subsets apart. Null: they cannot be had.
  const RepairPlan* supplied_by_need(const Option& option) {
    const auto pieces = pieces_by_part(c(), model_.positions, option.plan.renew_now);
    const auto [at, added] = by_need_.try_emplace(pieces);
    if (!added) return at->second ? &*at->second : nullptr;
    RepairPlan plan;
    plan.supplies = least_.supplies;
    std::vector<Need> needs;
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      Supply& supply = plan.supplies[p];
      supply.first_pieces = supply.hedge_pieces = 0;
      supply.hedge_candidate = -1;
      const int missing =
          pieces[p] - c().parts[p].candidates[static_cast<std::size_t>(supply.candidate)].on_hand;
      if (pieces[p] > 0 && missing > 0) needs.push_back({static_cast<int>(p), supply.candidate, missing});
    }
    if (!needs.empty()) {
      auto order = cheapest_order(c(), needs, c().downtime.per_day.base(), Parcel::with_other_goods);
      if (!order) return nullptr;
      for (const OrderItem& item : order->items)
        plan.supplies[static_cast<std::size_t>(item.part)].first_pieces += item.quantity;
      plan.first_order = book_.enter(std::move(*order));
    }
    at->second = std::move(plan);
    return &*at->second;
  }

  bool supply_subset(Subset& subset) {
    const RepairPlan* plan = supplied_by_need(subset.option);
    if (plan == nullptr) return false;
    subset.option.plan.supplies = plan->supplies;
    subset.option.plan.first_order = plan->first_order;
    return true;
  }

  /// The rule of the plan that renews least; plans are told apart under it.
  void find_rule() {
    Subset least{.option = option_of(0, false)};
    if (!supply_subset(least)) return;
    price();
    if (c().device.must_keep) return;
    const auto traces = run_traces(scene(), least.option, false,
                                   {.seed = settings_.seed,
                                    .futures = std::max(first_futures, settings_.choice_futures / 4),
                                    .threads = settings_.threads});
    rule_ = fitted_rule(traces, c().parts.size());
  }

  std::vector<Subset> every_subset() {
    std::vector<Subset> subsets;
    const Mask all = (Mask{1} << groups_.size()) - 1;
    for (Mask mask = 0; mask <= all; ++mask) {
      for (const bool later : {false, true}) {
        if (later && mask == all) continue;
        Subset subset{.mask = mask, .mates_later = later, .option = option_of(mask, later)};
        if (supply_subset(subset)) subsets.push_back(std::move(subset));
      }
    }
    find_rule();
    return subsets;
  }

  /// One group after the other, that first which lowers the cost most.
  std::vector<Subset> nested_subsets() {
    find_rule();
    std::vector<Subset> subsets;
    Mask mask = 0;
    const Mask all = groups_.size() >= 64 ? ~Mask{0} : (Mask{1} << groups_.size()) - 1;
    const auto add = [&](Mask m) {
      for (const bool later : {false, true}) {
        Subset subset{.mask = m, .mates_later = later, .option = option_of(m, later)};
        if (supply_subset(subset)) subsets.push_back(std::move(subset));
      }
    };
    add(0);
    while (mask != all) {
      std::vector<Subset> next;
      for (std::size_t i = 0; i < std::min<std::size_t>(groups_.size(), 64); ++i) {
        const Mask bit = Mask{1} << i;
        if ((mask & bit) != 0) continue;
        Subset subset{.mask = mask | bit, .option = option_of(mask | bit, false)};
        if (supply_subset(subset)) next.push_back(std::move(subset));
      }
      if (next.empty()) break;
      judge(next, first_futures);
      mask = std::min_element(next.begin(), next.end(), [](const Subset& a, const Subset& b) {
               return a.cost < b.cost;
             })->mask;
      add(mask);
    }
    add(mask_of(mates_of_failed(c())));
    return subsets;
  }

  /// Costs over so many futures; keeps each subset's costs for comparison.
  std::vector<std::vector<double>> judge(std::vector<Subset>& subsets, int futures) {
    price();
    std::vector<Option> options;
    for (Subset& subset : subsets) {
      subset.option.plan.rule = rule_;
      options.push_back(subset.option);
    }
    auto ensemble = run_ensemble(scene(), options,
                                 {.seed = settings_.seed,
                                  .futures = futures,
                                  .threads = settings_.threads,
                                  .keep_costs = true,
                                  .keep_items = false,
                                  .draw_prices = false});
    for (std::size_t i = 0; i < subsets.size(); ++i) subsets[i].cost = ensemble.mean_cost(i);
    return std::move(ensemble.costs);
  }

  /// The best of the subsets that `wanted` accepts: those that few futures cannot tell from the best are run on more.
  template <class Wanted>
  std::optional<Subset> best(const std::vector<Subset>& subsets, Wanted wanted) {
    std::vector<Subset> left;
    std::copy_if(subsets.begin(), subsets.end(), std::back_inserter(left), wanted);
    for (int futures = std::min(first_futures, settings_.choice_futures); left.size() > 1;) {
      const auto costs = judge(left, futures);
      const auto leader = static_cast<std::size_t>(
          std::min_element(left.begin(), left.end(),
                           [](const Subset& a, const Subset& b) { return a.cost < b.cost; }) -
          left.begin());
      if (futures >= settings_.choice_futures) return left[leader];
      std::vector<Subset> close;
      for (std::size_t i = 0; i < left.size(); ++i) {
        if (i == leader || !surely_behind(costs[i], costs[leader])) close.push_back(left[i]);
      }
      left = std::move(close);
      futures = std::min(settings_.choice_futures, growth_of_rounds * futures);
    }
    return left.empty() ? std::nullopt : std::optional(left.front());
  }

  static bool surely_behind(const std::vector<double>& behind, const std::vector<double>& front) {
    const auto n = static_cast<double>(front.size());
    double sum = 0, squares = 0;
    for (std::size_t f = 0; f < front.size(); ++f) {
      const double d = behind[f] - front[f];
      sum += d;
      squares += d * d;
    }
    const double variance = std::max(0.0, squares / n - sum / n * (sum / n));
    return sum / n > telling_errors * std::sqrt(variance / n);
  }

  [[nodiscard]] Mask mask_of(const std::vector<int>& groups) const {
    Mask mask = 0;
    for (std::size_t i = 0; i < std::min<std::size_t>(groups_.size(), 64); ++i) {
      if (std::find(groups.begin(), groups.end(), groups_[i]) != groups.end()) mask |= Mask{1} << i;
    }
    return mask;
  }

  /// The best of each family that differs from the others; those that are worth it only if no whole family is best.
  std::vector<Subset> by_family(const std::vector<Subset>& subsets) {
    std::vector<std::pair<Mask, Family>> families = {{0, Family::failed_only}};
    const auto add = [&](Mask mask, Family family) {
      for (const auto& known : families) {
        if (known.first == mask) return;
      }
      families.emplace_back(mask, family);
    };
    add(mask_of(mates_of_failed(c())), Family::failed_and_mates);
    add(mask_of(groups_), Family::every_original);
    std::vector<Subset> chosen;
    for (const auto& known : families) {
      auto found = best(subsets, [&](const Subset& s) { return s.mask == known.first; });
      if (!found) continue;
      found->option.plan.family = known.second;
      chosen.push_back(std::move(*found));
    }
    auto worth_it = best(subsets, [](const Subset&) { return true; });
    const auto whole = [&](Mask mask) {
      return std::any_of(families.begin(), families.end(), [&](const auto& f) { return f.first == mask; });
    };
    if (worth_it && !whole(worth_it->mask)) {
      worth_it->option.plan.family = Family::failed_and_worth;
      chosen.push_back(std::move(*worth_it));
    }
    return chosen;
  }

  /// What repairing the failed positions alone would cost if no original ever failed: no subset costs less.
  double bound() {
    Case without = c();
    for (PositionGroup& group : without.positions) group.count = group.failed + group.renewed;
    ModelCache cache;
    const DeviceModel model = DeviceModel::make(without, model_.hypothesis, cache);
    Subset least{.option = option_of(0, false)};
    if (!supply_subset(least)) return 0;
    price();
    Option option = least.option;
    option.plan.renew_now = renewed_with(model.positions, {});
    const Scene bare{model, items_, book_, chains_};
    const EnsembleSettings settings{.seed = settings_.seed,
                                    .futures = settings_.choice_futures,
                                    .threads = settings_.threads,
                                    .keep_items = false,
                                    .draw_prices = false};
    if (!c().device.must_keep)
      option.plan.rule = fitted_rule(run_traces(bare, option, false, settings), c().parts.size());
    return run_ensemble(bare, {option}, settings).mean_cost(0);
  }

  const DeviceModel& model_;
  const Chains& chains_;
  OrderBook& book_;
  PlanSearchSettings settings_;
  int base_orders_;
  std::vector<int> groups_;
  Items items_;
  std::vector<UnitCost> unit_;
  RepairPlan least_;  // supplied
  StoppingRule rule_;
  std::map<std::vector<int>, std::optional<RepairPlan>> by_need_;
};

}  // namespace

PlanSearch search_plans(const DeviceModel& model, const Chains& chains, OrderBook& book,
                        const PlanSearchSettings& settings) {
  return Search(model, chains, book, settings).run();
}

}  // namespace mendworth
