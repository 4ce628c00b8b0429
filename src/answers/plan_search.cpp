#include "answers/plan_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>
#include <utility>

#include "futures/stopping.hpp"

namespace mendworth {
namespace {

constexpr double significant = 2.0;     ///< errors of a gain that is more than chance
constexpr double telling_errors = 4.0;  ///< of the distance of two plans over the same futures
constexpr int supply_rounds = 2;        ///< of spares for a rule and a rule for spares
constexpr int first_futures = 64, growth_of_rounds = 4;
constexpr int passes = 2;

using Mask = std::uint64_t;

/// A subset of groups to renew beside what failed, and whether later failures renew mates too.
struct Subset {
  Mask mask = 0;
  bool mates_later = false;
  Option option{};
  double cost = 0;
  std::vector<double> costs{};  ///< by future, once it has pieces and a rule of its own
};

class PlanFinder {
 public:
  PlanFinder(const DeviceModel& model, const Chains& chains, OrderBook& book, FutureStore& futures,
             const PlanSearchSettings& settings)
      : model_(model),
        chains_(chains),
        book_(book),
        settings_(settings),
        groups_(groups_with_originals(model.c)),
        futures_(futures) {}

  PlanSearch run() {
    PlanSearch result;
    price();
    auto least = buy({.option = option_of(0, false)});
    if (!least) {
      result.had = false;
      return result;
    }
    std::vector<Bought> bought{std::move(*least)};
    // Subsets are told apart with the spares and under the rule of one plan; where another one turns out to be best,
    // once more with its own.
    std::size_t leader = 0;
    for (int pass = 0; pass < passes && !groups_.empty(); ++pass) {
      aim_at(bought[leader]);
      for (const Subset& subset : chosen_subsets()) {
        const bool known =
            std::any_of(bought.begin(), bought.end(), [&](const Bought& b) { return b.is(subset); });
        if (known) continue;
        if (auto with_pieces = buy(subset)) bought.push_back(std::move(*with_pieces));
      }
      const auto best = static_cast<std::size_t>(
          std::min_element(bought.begin(), bought.end(),
                           [](const Bought& a, const Bought& b) { return a.subset.cost < b.subset.cost; }) -
          bought.begin());
      if (best == leader) break;
      leader = best;
    }
    if (static_cast<int>(groups_.size()) > most_groups_by_subset) result.bound = bound();
    result.plans = settings_.best_only ? as_the_best(bought) : by_family(bought);
    return result;
  }

 private:
  [[nodiscard]] const Case& c() const { return model_.c; }
  [[nodiscard]] Scene scene() { return {model_, items_, book_, chains_, &futures_}; }
  [[nodiscard]] PurchasingSettings purchasing() const {
    return {.seed = settings_.seed,
            .threads = settings_.threads,
            .futures = settings_.worth_futures,
            .most_steps = settings_.most_steps,
            .progress = settings_.progress};
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

  /// A subset with the pieces that are best for it, the rule found for it, and what it costs.
  struct Bought {
    Subset subset;
    [[nodiscard]] bool is(const Subset& other) const {
      return subset.mask == other.mask && subset.mates_later == other.mates_later;
    }
  };

  [[nodiscard]] std::vector<int> pieces_of(const Option& option) const {
    return pieces_by_part(c(), model_.positions, option.plan.renew_now);
  }
  /// Absent where it cannot be had. Spares and the rule for later failures hang on each other: what is best without any,
  /// if every failure is repaired again, and under the rule of what was best so far is tried.
  std::optional<Bought> buy(const Subset& subset) {
    std::optional<Bought> best;
    std::vector<std::vector<OrderItem>> tried;
    const PlanOutlook outlook = outlook_of(scene(), subset.option, purchasing());
    std::vector<StoppingRule> asked;
    const auto is_new = [&](const std::optional<StoppingRule>& rule) {
      if (rule && std::any_of(asked.begin(), asked.end(),
                              [&](const StoppingRule& other) { return rule->is_same_as(other); }))
        return false;
      asked.push_back(rule.value_or(outlook.rule));
      const int orders = book_.size();
      PurchasingSettings settings = purchasing();
      settings.spares_rule = rule;
      settings.outlook = outlook;
      const Purchase pieces = purchase_for(scene(), unit_, subset.option, pieces_of(subset.option), settings);
      if (!pieces.basket || std::find(tried.begin(), tried.end(), pieces.basket->items) != tried.end())
        return false;
      tried.push_back(pieces.basket->items);
      Bought bought = supplied(subset, pieces);
      bought.subset.option.plan.spares_rule = rule;
      if (!best || bought.subset.cost < best->subset.cost) {
        best = std::move(bought);
      } else {
        book_.shrink(orders);
        price();
      }
      return true;
    };
    if (!is_new(std::nullopt)) return best;
    is_new(StoppingRule{});
    for (int round = 0; round < supply_rounds; ++round) {
      if (!is_new(best->subset.option.plan.rule.with_pieces_at_hand())) break;
    }
    return best;
  }

  Bought supplied(Subset subset, const Purchase& pieces) {
    RepairPlan& plan = subset.option.plan;
    plan.supplies.clear();
    plan.rule = {};
    supply(c(), pieces, book_, plan);
    price();
    traces_ = run_traces(
        scene(), subset.option, false,
        {.seed = settings_.seed, .futures = settings_.choice_futures, .threads = settings_.threads},
        std::move(traces_));
    if (!c().device.must_keep) plan.rule = fitted_rule(traces_, c().parts.size());
    subset.costs.clear();
    for (const Trace& trace : traces_) subset.costs.push_back(cost_under(plan.rule, trace));
    subset.cost = mean_of(subset.costs).mean;
    return {std::move(subset)};
  }

  /// From now on subsets are supplied and later failures decided as in this plan.
  void aim_at(const Bought& leader) {
    const RepairPlan& plan = leader.subset.option.plan;
    supplies_ = plan.supplies;
    rule_ = plan.rule;
    const auto pieces = pieces_of(leader.subset.option);
    spares_.clear();
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      const auto& candidates = c().parts[p].candidates;
      const int on_hand =
          candidates.empty() ? 0 : candidates[static_cast<std::size_t>(supplies_[p].candidate)].on_hand;
      spares_.push_back(std::max(0, supplies_[p].first_pieces + on_hand - pieces[p]));
    }
  }

  /// Those that may be best of their family, under what is aimed at.
  std::vector<Subset> chosen_subsets() {
    const int bought_orders = book_.size();
    by_need_.clear();
    std::vector<Subset> chosen = best_of_families(
        static_cast<int>(groups_.size()) <= most_groups_by_subset ? every_subset() : nested_subsets());
    book_.shrink(bought_orders);
    by_need_.clear();
    price();
    return chosen;
  }

  /// The supply of a plan by the pieces that it needs and the spares aimed at: the cheapest order of the candidates that
  /// are tried first. Good enough to tell subsets apart. Null: they cannot be had.
  const RepairPlan* supplied_by_need(const Option& option) {
    const auto pieces = pieces_by_part(c(), model_.positions, option.plan.renew_now);
    const auto [at, added] = by_need_.try_emplace(pieces);
    if (!added) return at->second ? &*at->second : nullptr;
    RepairPlan plan;
    plan.supplies = supplies_;
    for (Supply& supply : plan.supplies) {
      supply.first_pieces = supply.hedge_pieces = 0;
      supply.hedge_candidate = -1;
    }
    auto order = order_of(pieces, spares_);
    if (!order) order = order_of(pieces, std::vector<int>(pieces.size(), 0));
    if (!order) return nullptr;
    for (const OrderItem& item : order->items)
      plan.supplies[static_cast<std::size_t>(item.part)].first_pieces += item.quantity;
    if (!order->items.empty()) plan.first_order = book_.enter(std::move(*order));
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

  /// Empty where the drawer has all; absent where it cannot be had.
  [[nodiscard]] std::optional<Order> order_of(const std::vector<int>& pieces,
                                              const std::vector<int>& spares) const {
    std::vector<Need> needs;
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      const int candidate = supplies_[p].candidate;
      if (pieces[p] == 0) continue;
      const int missing =
          pieces[p] + spares[p] - c().parts[p].candidates[static_cast<std::size_t>(candidate)].on_hand;
      if (missing > 0) needs.push_back({static_cast<int>(p), candidate, missing});
    }
    if (needs.empty()) return Order{};
    return cheapest_order(c(), needs, c().downtime.per_day.base(), Parcel::with_other_goods);
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
    return subsets;
  }

  /// One group after the other, that first which costs least beside the failed positions: as many subsets as groups, so
  /// that the work does not grow with their square.
  std::vector<Subset> nested_subsets() {
    const auto supplied = [this](Mask mask, bool later, std::vector<Subset>& into) {
      Subset subset{.mask = mask, .mates_later = later, .option = option_of(mask, later)};
      if (supply_subset(subset)) into.push_back(std::move(subset));
    };
    std::vector<Subset> single, subsets;
    for (std::size_t i = 0; i < std::min<std::size_t>(groups_.size(), 64); ++i)
      supplied(Mask{1} << i, false, single);
    judge(single, first_futures);
    std::stable_sort(single.begin(), single.end(),
                     [](const Subset& a, const Subset& b) { return a.cost < b.cost; });
    const auto add = [&](Mask mask) {
      for (const bool later : {false, true}) supplied(mask, later, subsets);
    };
    Mask mask = 0;
    add(mask);
    for (const Subset& next : single) add(mask |= next.mask);
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
    const MeanError d = mean_difference(behind, front);
    return d.mean > telling_errors * d.error;
  }

  [[nodiscard]] Mask mask_of(const std::vector<int>& groups) const {
    Mask mask = 0;
    for (std::size_t i = 0; i < std::min<std::size_t>(groups_.size(), 64); ++i) {
      if (std::find(groups.begin(), groups.end(), groups_[i]) != groups.end()) mask |= Mask{1} << i;
    }
    return mask;
  }

  /// The masks of the families that renew whole parts, as far as they differ.
  [[nodiscard]] std::vector<std::pair<Mask, Family>> whole_families() const {
    std::vector<std::pair<Mask, Family>> families = {{0, Family::failed_only}};
    const auto add = [&](Mask mask, Family family) {
      const bool known =
          std::any_of(families.begin(), families.end(), [&](const auto& f) { return f.first == mask; });
      if (!known) families.emplace_back(mask, family);
    };
    add(mask_of(mates_of_failed(c())), Family::failed_and_mates);
    add(mask_of(groups_), Family::every_original);
    return families;
  }

  std::vector<Subset> best_of_families(const std::vector<Subset>& subsets) {
    std::vector<Subset> chosen;
    for (const auto& family : whole_families()) {
      if (settings_.best_only) break;
      auto found = best(subsets, [&](const Subset& s) { return s.mask == family.first; });
      if (found) chosen.push_back(std::move(*found));
    }
    auto worth_it = best(subsets, [](const Subset&) { return true; });
    if (worth_it) chosen.push_back(std::move(*worth_it));
    // Whether later failures should renew mates too hangs on spares and on the rule, which here are another plan's.
    for (const Subset& subset : subsets) {
      const auto is_twin = [&subset](const Subset& s) {
        return s.mask == subset.mask && s.mates_later != subset.mates_later;
      };
      if (std::any_of(chosen.begin(), chosen.end(), is_twin)) chosen.push_back(subset);
    }
    return chosen;
  }

  /// The cheapest plan and, for who compares them over other futures, those that renew the same now.
  [[nodiscard]] static std::vector<Option> as_the_best(const std::vector<Bought>& bought) {
    const auto best = std::min_element(bought.begin(), bought.end(), [](const Bought& a, const Bought& b) {
      return a.subset.cost < b.subset.cost;
    });
    std::vector<Option> plans;
    for (const Bought& each : bought) {
      if (each.subset.mask == best->subset.mask) plans.push_back(each.subset.option);
    }
    return plans;
  }

  /// The cheapest plan of each family; those mates that are worth it only if that is no whole family.
  [[nodiscard]] std::vector<Option> by_family(const std::vector<Bought>& bought) const {
    const auto families = whole_families();
    std::vector<std::optional<Subset>> best(families.size() + 1);
    double least = std::numeric_limits<double>::infinity();
    for (const Bought& each : bought) {
      std::size_t k = 0;
      while (k < families.size() && families[k].first != each.subset.mask) ++k;
      if (!best[k] || is_preferred(each.subset, *best[k])) best[k] = each.subset;
      least = std::min(least, each.subset.cost);
    }
    std::vector<Option> plans;
    for (std::size_t k = 0; k < best.size(); ++k) {
      const bool whole = k < families.size();
      if (!best[k] || (!whole && best[k]->cost > least)) continue;
      plans.push_back(best[k]->option);
      plans.back().plan.family = whole ? families[k].second : Family::failed_and_worth;
    }
    return plans;
  }

  /// The cheaper one; mates are renewed later only where that is better by more than chance.
  static bool is_preferred(const Subset& subset, const Subset& than) {
    if (subset.mask != than.mask || subset.mates_later == than.mates_later) return subset.cost < than.cost;
    const auto& [plain, other] = subset.mates_later ? std::tie(than, subset) : std::tie(subset, than);
    const MeanError gain = mean_difference(plain.costs, other.costs);
    return (gain.mean > significant * gain.error) == subset.mates_later;
  }

  /// What repairing the failed positions alone would cost if no original ever failed: no subset costs less.
  double bound() {
    Case without = c();
    for (PositionGroup& group : without.positions) group.count = group.failed + group.renewed;
    ModelCache cache;
    const DeviceModel model = DeviceModel::make(without, model_.hypothesis, cache);
    Subset least{.option = option_of(0, false)};
    by_need_.clear();
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
  std::vector<int> groups_;
  FutureStore& futures_;
  Items items_;
  std::vector<UnitCost> unit_;
  std::vector<Supply> supplies_;  // aimed at
  std::vector<int> spares_;       // per part, aimed at
  StoppingRule rule_;             // aimed at
  std::vector<Trace> traces_;     // of the plan supplied last
  std::map<std::vector<int>, std::optional<RepairPlan>> by_need_;
};

}  // namespace

PlanSearch search_plans(const DeviceModel& model, const Chains& chains, OrderBook& book, FutureStore& store,
                        const PlanSearchSettings& settings) {
  return PlanFinder(model, chains, book, store, settings).run();
}

}  // namespace mendworth
