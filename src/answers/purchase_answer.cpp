#include "answers/purchase_answer.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "answers/labels.hpp"
#include "answers/order_answer.hpp"
#include "answers/settings.hpp"
#include "model/fit.hpp"

namespace mendworth {
namespace {

constexpr int most_paired_futures = 1024;

const Candidate& candidate_of(const Case& c, std::size_t part, int candidate) {
  return c.parts[part].candidates[static_cast<std::size_t>(candidate)];
}

/// Answers about the order of one plan.
class PlanOrder {
 public:
  PlanOrder(const Contest& contest, std::size_t repair, const WeighSettings& settings)
      : contest_(contest),
        c_(contest.model.c),
        repair_(repair),
        settings_(settings),
        plan_(contest.options[repair].plan),
        pieces_(c_.parts.size(), 0) {
    for (const int i : plan_.renew_now) {
      ++pieces_[static_cast<std::size_t>(contest.model.positions[static_cast<std::size_t>(i)].part)];
    }
  }

  PurchaseAnswer answer() {
    auto& order = answer_.order;
    describe();
    order.plan = option_name(c_, contest_.options[repair_]);
    order.charged_by_reuse = order.charged_whole;
    add_drawer();
    const bool hedged = add_hedge_cost();
    if (order.leftovers == 0 && !hedged) return std::move(answer_);

    // The same plan on the same futures, paid for alike: without its leftovers, and without its hedge.
    std::vector<Option> options{contest_.options[repair_]};
    if (order.leftovers > 0) options.push_back(without_leftovers());
    if (hedged) options.push_back(without_hedge());
    const int futures = at_most(most_paired_futures, settings_);
    const auto runs = run_ensemble(
        contest_.scene(), options,
        {.seed = settings_.seed, .futures = futures, .threads = settings_.threads, .draw_prices = false});
    if (order.leftovers > 0) {
      order.leftover_value = runs.mean_cost(1) - runs.mean_cost(0);
      order.charged_by_reuse = order.charged_whole - order.leftover_value;
      answer_.pieces_used =
          (runs.tallies[0].counts.spares_used - runs.tallies[1].counts.spares_used) / futures;
    }
    if (hedged) order.hedge->worth = runs.mean_cost(options.size() - 1) - runs.mean_cost(0);
    return std::move(answer_);
  }

 private:
  /// Pieces of a candidate that the visit now lacks.
  [[nodiscard]] int lacking(std::size_t part, int candidate) const {
    return std::max(0, pieces_[part] - candidate_of(c_, part, candidate).on_hand);
  }
  [[nodiscard]] bool is_hedge(int part, int candidate) const {
    return plan_.supplies[static_cast<std::size_t>(part)].hedge_candidate == candidate;
  }

  void describe() {
    if (plan_.first_order < 0) return;
    const auto& order = contest_.book.order(plan_.first_order);
    answer_.order = describe_order(c_, order, pieces_needed(order.items, [&](int part, int candidate) {
                                     return lacking(static_cast<std::size_t>(part), candidate);
                                   }));
    for (std::size_t i = 0; i < order.items.size(); ++i) {
      const auto& item = order.items[i];
      if (!is_hedge(item.part, item.candidate)) continue;
      const auto part = static_cast<std::size_t>(item.part);
      answer_.order.lines[i].hedge_for = candidate_of(c_, part, plan_.supplies[part].candidate).name;
    }
  }

  void add_drawer() {
    for (std::size_t p = 0; p < pieces_.size(); ++p) {
      const auto& candidate = c_.parts[p].candidates[static_cast<std::size_t>(plan_.supplies[p].candidate)];
      const int taken = std::min(pieces_[p], candidate.on_hand);
      if (taken == 0) continue;
      double worth = 0;
      for (const int item : {contest_.items.parts[p].drawn_use, contest_.items.parts[p].drawn_left}) {
        worth += contest_.ensemble.mean_amount(repair_, item) *
                 contest_.unit[static_cast<std::size_t>(item)].money;
      }
      answer_.order.drawer.push_back({.part = c_.parts[p].name,
                                      .candidate = candidate.name,
                                      .taken = taken,
                                      .on_hand = candidate.on_hand,
                                      .worth = worth});
    }
  }

  /// What the order costs more for its hedges. False if it has none.
  bool add_hedge_cost() {
    HedgeAnswer hedge;
    double all_fit = 1;
    for (std::size_t p = 0; p < pieces_.size(); ++p) {
      const auto& supply = plan_.supplies[p];
      if (supply.hedge_pieces > 0) all_fit *= fit_chance(c_.parts[p], candidate_of(c_, p, supply.candidate));
    }
    hedge.misfit_chance = 1.0 - all_fit;
    std::vector<OrderItem> first;
    bool hedged = false;
    if (plan_.first_order >= 0) {
      for (const auto& item : contest_.book.order(plan_.first_order).items) {
        if (is_hedge(item.part, item.candidate)) {
          hedged = true;
        } else {
          first.push_back(item);
        }
      }
    }
    if (!hedged) return false;
    const double day = c_.downtime.per_day.base();
    const auto cost_of = [day](const LandedCost& cost) { return cost.total + day * cost.wait_days; };
    hedge.cost = cost_of(contest_.book.order(plan_.first_order).cost);
    if (!first.empty()) {
      if (const auto plain = landed_cost(c_, first, Parcel::with_other_goods)) hedge.cost -= cost_of(*plain);
    }
    answer_.order.hedge = hedge;
    return true;
  }

  [[nodiscard]] Option without_leftovers() const {
    Option without = contest_.options[repair_];
    for (std::size_t p = 0; p < pieces_.size(); ++p) {
      auto& supply = without.plan.supplies[p];
      supply.first_pieces = std::min(supply.first_pieces, lacking(p, supply.candidate));
      if (supply.hedge_candidate < 0) continue;
      supply.hedge_pieces = std::min(supply.hedge_pieces, lacking(p, supply.hedge_candidate));
    }
    return without;
  }

  [[nodiscard]] Option without_hedge() const {
    Option without = contest_.options[repair_];
    for (auto& supply : without.plan.supplies) supply.hedge_pieces = 0;
    return without;
  }

  const Contest& contest_;
  const Case& c_;
  std::size_t repair_;
  const WeighSettings& settings_;
  const RepairPlan& plan_;
  std::vector<int> pieces_;  // per part, renewed now
  PurchaseAnswer answer_;
};

}  // namespace

PurchaseAnswer purchase_answer(const Contest& contest, std::size_t repair, const WeighSettings& settings) {
  return PlanOrder(contest, repair, settings).answer();
}

}  // namespace mendworth
