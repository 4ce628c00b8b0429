#include "answers/purchasing.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include "answers/drawer_offers.hpp"
#include "futures/spare_uses.hpp"
#include "futures/stopping.hpp"
#include "model/fit.hpp"
#include "numeric/poisson_stock.hpp"

namespace mendworth {
namespace {

constexpr int most_simulated = 48;  ///< spares; beyond them only other devices and jobs can want one
constexpr int most_spares = 1024;
constexpr double infinite = std::numeric_limits<double>::infinity();

/// Chance that none of a set of candidates fits, by set.
std::vector<double> chances_of_none(const Part& part, int candidates) {
  std::vector<double> none;
  for (unsigned set = 0; set < 1U << static_cast<unsigned>(candidates); ++set) {
    std::vector<int> members;
    for (int k = 0; k < candidates; ++k) {
      if ((set >> static_cast<unsigned>(k) & 1U) != 0) members.push_back(k);
    }
    none.push_back(first_fit(part, members).none);
  }
  return none;
}

// A curve that ends in zero steps need not say so.
void shorten(WorthCurve& curve) {
  while (curve.size() > 1 && curve.back() - curve[curve.size() - 2] <= 1e-9) curve.pop_back();
}

PartWish wish_of(int part, int pieces, const MisfitCost& misfit, const SpareWorth& spares,
                 const Tries& tries) {
  PartWish wish{.part = part, .pieces = pieces};
  for (int k = 0; k < tries.candidates; ++k) {
    wish.alone.push_back({.misfit_cost = misfit.alone(k),
                          .used_chance = 1.0 - tries.none_fits(1U << static_cast<unsigned>(k)),
                          .left_if_used = spares.candidates[static_cast<std::size_t>(k)].if_used,
                          .left_if_wrong = {}});
  }
  for (int first = 0; first < tries.candidates; ++first) {
    const double first_wrong = tries.none_fits(1U << static_cast<unsigned>(first));
    if (first_wrong <= 0) continue;
    for (int second = 0; second < tries.candidates; ++second) {
      if (second == first) continue;
      const double both_wrong =
          tries.none_fits((1U << static_cast<unsigned>(first)) | (1U << static_cast<unsigned>(second)));
      if (both_wrong >= first_wrong) continue;  // a second one that never helps
      wish.hedges.push_back({.first = first,
                             .second = second,
                             .misfit_cost = misfit.hedge(first, second),
                             .first_used = 1.0 - first_wrong,
                             .second_used = first_wrong - both_wrong});
    }
  }
  return wish;
}

/// The plan without an order, every candidate in turn.
Option without_supplies(const Case& c, Option option) {
  option.plan.first_order = -1;
  option.plan.rule = {};
  option.plan.supplies.assign(c.parts.size(), Supply{});
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    for (int k = 0; k < static_cast<int>(c.parts[p].candidates.size()); ++k)
      option.plan.supplies[p].trial.push_back(k);
  }
  return option;
}

/// What follows from a plan once it has succeeded, and what its spares would do.
class Prospect {
 public:
  Prospect(const Scene& scene, const std::vector<UnitCost>& unit, const Option& option,
           const PurchasingSettings& settings)
      : scene_(scene), unit_(unit), c_(scene.model.c), bare_(without_supplies(c_, option)) {
    const PlanOutlook outlook = settings.outlook ? *settings.outlook : outlook_of(scene, option, settings);
    const auto price = [&](int item) { return unit_[static_cast<std::size_t>(item)].total(); };
    const double anew = price(scene.items.scrap) + price(scene.items.keepsake) + scene.chains.cost();
    give_up_ = c_.device.must_keep ? infinite : std::max(0.0, anew - (outlook.cost - first_visit_cost()));
    bare_.plan.rule = settings.spares_rule.value_or(outlook.rule);
    uses_ = spare_uses(scene, unit, bare_, most_simulated, settings.seed, settings.futures);
  }

  [[nodiscard]] double give_up() const noexcept { return give_up_; }

  /// A misfit that a dry fit shows costs minutes; one that shows after closing costs an opening and the work on a
  /// position, and its joints may break.
  [[nodiscard]] double try_cost(int part) const {
    const auto of_part = std::find_if(bare_.plan.renew_now.begin(), bare_.plan.renew_now.end(), [&](int i) {
      return scene_.model.positions[static_cast<std::size_t>(i)].part == part;
    });
    const auto& items = scene_.items;
    const auto price = [&](const ByPhase& item) {
      return unit_[static_cast<std::size_t>(item[Phase::luck])].total();
    };
    double worked_on = price(items.visit) + price(items.visit_work);
    if (of_part != bare_.plan.renew_now.end()) {
      const auto group =
          static_cast<std::size_t>(scene_.model.positions[static_cast<std::size_t>(*of_part)].group);
      const int joints = c_.positions[group].joints;
      worked_on += price(items.work[group]) + chance(joints, c_.risks.joint_mendable) * price(items.mend);
      if (std::isfinite(give_up_)) worked_on += chance(joints, c_.risks.joint_write_off) * give_up_;
    }
    const double late = c_.risks.misfit_found_after_closing.base();
    return late * worked_on + (1.0 - late) * price(items.dry_fit);
  }

  [[nodiscard]] SpareWorth spares(int part) const {
    const auto p = static_cast<std::size_t>(part);
    const Part& kind = c_.parts[p];
    const double need = c_.horizon.years ? c_.horizon.years->base() : infinite;
    const double until = std::min(need, kind.shelf_life_years.base());
    const double growth = std::log1p(c_.horizon.discount_rate.base());
    const double resale = kind.spare_resale.base() * std::exp(-growth * until);
    const double saved = -unit_[static_cast<std::size_t>(scene_.items.parts[p].used_elsewhere)].money;
    WorthCurve elsewhere = worth_elsewhere(c_, scene_.book, part, most_spares);
    for (std::size_t k = most_simulated + 1; k < elsewhere.size(); ++k) {
      if (elsewhere[k] - elsewhere[k - 1] - resale < 1e-9) elsewhere.resize(k + 1);
    }
    SpareWorth worth;
    for (std::size_t k = 0; k < kind.candidates.size(); ++k) {
      SpareWorth::OfCandidate answer;
      const int one = scene_.book.reorder(part, static_cast<int>(k), 1);
      if (one >= 0) {
        answer.small_order =
            unit_[static_cast<std::size_t>(scene_.items.orders[static_cast<std::size_t>(one)][Phase::later])]
                .total();
      }
      answer.resale = resale;
      answer.used = uses_[p].used;
      const double most = std::max({answer.small_order, saved, resale});
      WorthCurve simulated;
      for (std::size_t s = 0; s < uses_[p].used.size(); ++s)
        simulated.push_back(uses_[p].saved[k][s] + uses_[p].left[s] * kind.spare_resale.base());
      answer.elsewhere = levelled(elsewhere, resale, most);
      // The repair itself has no use for so many, so that what follows is worth as much as without it.
      for (std::size_t i = simulated.size(); i < answer.elsewhere.size(); ++i) {
        simulated.push_back(simulated.back() + answer.elsewhere[i] - answer.elsewhere[i - 1]);
      }
      answer.if_used = levelled(simulated, 0.0, most);
      shorten(answer.if_used);
      shorten(answer.elsewhere);
      worth.candidates.push_back(std::move(answer));
    }
    return worth;
  }

 private:
  /// Chance that at least one of so many joints suffers.
  [[nodiscard]] static double chance(int joints, const Quantity& each) {
    return -std::expm1(joints * std::log1p(-each.base()));
  }

  [[nodiscard]] double first_visit_cost() const {
    const auto price = [&](const ByPhase& item) {
      return unit_[static_cast<std::size_t>(item[Phase::first])].total();
    };
    std::vector<int> groups;
    for (const int i : bare_.plan.renew_now)
      groups.push_back(scene_.model.positions[static_cast<std::size_t>(i)].group);
    const double minute = c_.labour.rate_per_hour.base() / 60.0;
    return price(scene_.items.visit) + first_visit_minutes(c_, groups) * minute;
  }

  const Scene& scene_;
  const std::vector<UnitCost>& unit_;
  const Case& c_;
  Option bare_;
  double give_up_ = 0;
  std::vector<SpareUses> uses_;
};

double cost_of_ordering(const Case& c, int part, int candidate, int pieces) {
  const double day = c.downtime.per_day.base();
  const Need need{.part = part, .candidate = candidate, .pieces = pieces};
  const auto order = cheapest_order(c, {&need, 1}, day, Parcel::alone);
  return order ? order->cost.total + order->cost.wait_days * day : infinite;
}

}  // namespace

PlanOutlook outlook_of(const Scene& scene, const Option& option, const PurchasingSettings& settings) {
  const Case& c = scene.model.c;
  const auto traces =
      run_traces(scene, without_supplies(c, option), true,
                 {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads});
  PlanOutlook outlook;
  if (!c.device.must_keep) outlook.rule = fitted_rule(traces, c.parts.size());
  for (const Trace& trace : traces) outlook.cost += cost_under(outlook.rule, trace);
  outlook.cost /= static_cast<double>(traces.size());
  return outlook;
}

WorthCurve worth_elsewhere(const Case& c, const OrderBook& book, int part, int most) {
  const Part& p = c.parts[static_cast<std::size_t>(part)];
  const double need = c.horizon.years ? c.horizon.years->base() : infinite;
  const double until = std::min(need, p.shelf_life_years.base());
  const double growth = std::log1p(c.horizon.discount_rate.base());
  const double resale = p.spare_resale.base() * std::exp(-growth * until);
  const int kind = book.small_order(part);
  const auto landed = kind < 0 ? std::nullopt : book.landed(c, kind);
  const double saved = kind < 0 ? 0.0 : landed ? landed->total : book.order(kind).cost.total;
  const auto uses = stock_uses(most, p.other_uses_per_year.base(), until, growth);
  const auto left = stock_left(most, p.other_uses_per_year.base(), until);
  WorthCurve worth;
  for (std::size_t n = 0; n < uses.size(); ++n) worth.push_back(uses[n] * saved + left[n] * resale);
  return worth;
}

WorthCurve levelled(const WorthCurve& curve, double least, double most) {
  struct Block {
    double sum;
    int steps;
    [[nodiscard]] double mean() const { return sum / steps; }
  };
  std::vector<Block> blocks;
  for (std::size_t k = 1; k < curve.size(); ++k) {
    blocks.push_back({curve[k] - curve[k - 1], 1});
    while (blocks.size() > 1 && blocks[blocks.size() - 2].mean() < blocks.back().mean()) {
      const Block last = blocks.back();
      blocks.pop_back();
      blocks.back().sum += last.sum;
      blocks.back().steps += last.steps;
    }
  }
  WorthCurve result{0.0};
  for (const Block& block : blocks) {
    const double step = std::max(least, std::min(most, block.mean()));
    for (int i = 0; i < block.steps; ++i) result.push_back(result.back() + step);
  }
  return result;
}

int candidates_tried(const Part& part) {
  // The chances of all sets take 2^n times the boxes of first_fit.
  constexpr double most_work = 4e6;
  const auto work = [&](int n) {
    return std::pow(2.0, n) * std::pow(2.0 * n + 1.0, static_cast<double>(part.dimensions.size()));
  };
  int tried = std::min(most_tried, static_cast<int>(part.candidates.size()));
  while (tried > 2 && work(tried) > most_work) --tried;
  return tried;
}

Purchase wishes_for(const Scene& scene, const std::vector<UnitCost>& unit, const Option& option,
                    const std::vector<int>& pieces, const PurchasingSettings& settings) {
  const Case& c = scene.model.c;
  const Prospect prospect(scene, unit, option, settings);
  Purchase purchase;
  purchase.trials.resize(c.parts.size());
  for (int p = 0; p < static_cast<int>(pieces.size()); ++p) {
    const int need = pieces[static_cast<std::size_t>(p)];
    const Part& part = c.parts[static_cast<std::size_t>(p)];
    if (part.candidates.empty()) continue;
    const int tried = candidates_tried(part);
    Tries tries{.candidates = tried,
                .none_fits = [none = chances_of_none(part, tried)](unsigned set) { return none[set]; },
                .try_cost = prospect.try_cost(p),
                .give_up = prospect.give_up()};
    for (int k = 0; k < tried; ++k) tries.order_again.push_back(cost_of_ordering(c, p, k, std::max(need, 1)));
    const MisfitCost misfit(tries);
    if (need == 0) {
      int first = 0;
      const auto cost = [&](int k) {
        return tries.order_again[static_cast<std::size_t>(k)] + misfit.alone(k);
      };
      for (int k = 1; k < tried; ++k) {
        if (cost(k) < cost(first)) first = k;
      }
      purchase.trials[static_cast<std::size_t>(p)] = misfit.order_after({first});
      continue;
    }
    SpareWorth spares = prospect.spares(p);
    PartWish wish = wish_of(p, need, misfit, spares, tries);
    purchase.wished.push_back({.wish = std::move(wish),
                               .misfit = misfit,
                               .spares = std::move(spares),
                               .give_up = prospect.give_up()});
  }
  purchase.shop = with_drawer_offers(c, purchase.wished);
  return purchase;
}

Purchase purchase_for(const Scene& scene, const std::vector<UnitCost>& unit, const Option& option,
                      const std::vector<int>& pieces, const PurchasingSettings& settings) {
  Purchase purchase = wishes_for(scene, unit, option, pieces, settings);
  std::vector<PartWish> wishes;
  for (const WishedPart& part : purchase.wished) wishes.push_back(part.wish);
  if (wishes.empty()) return purchase;
  BasketLimits limits;
  limits.most_steps = settings.most_steps;
  limits.progress = settings.progress;
  const BasketSearch search =
      best_baskets(purchase.shop, wishes, scene.model.c.downtime.per_day.base(), limits, 1);
  if (!search.best.empty()) purchase.basket = search.best.front();
  purchase.proved = search.proved;
  purchase.bound = search.bound;
  return purchase;
}

void supply(const Case& c, const Purchase& purchase, OrderBook& book, RepairPlan& plan) {
  const int drawer = static_cast<int>(c.suppliers.size());
  plan.supplies.assign(c.parts.size(), Supply{});
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    plan.supplies[p].trial = purchase.trials[p];
    if (!purchase.trials[p].empty()) plan.supplies[p].candidate = purchase.trials[p].front();
  }
  Order order;
  for (const WishedPart& part : purchase.wished) {
    Supply& supply = plan.supplies[static_cast<std::size_t>(part.wish.part)];
    std::vector<int> candidates;
    for (const OrderItem& item : purchase.basket->items) {
      if (item.part != part.wish.part) continue;
      if (std::find(candidates.begin(), candidates.end(), item.candidate) == candidates.end())
        candidates.push_back(item.candidate);
      if (offer_of(purchase.shop, item).supplier == drawer) continue;
      order.items.push_back(item);
      (item.candidate == candidates.front() ? supply.first_pieces : supply.hedge_pieces) += item.quantity;
    }
    supply.candidate = candidates.front();
    if (candidates.size() > 1) supply.hedge_candidate = candidates[1];
    supply.trial = part.misfit.order_after(candidates);
  }
  plan.first_order = -1;
  if (order.items.empty()) return;
  if (const auto cost = landed_cost(c, order.items, Parcel::with_other_goods)) order.cost = *cost;
  order.search_limited = !purchase.proved;
  plan.first_order = book.enter(std::move(order));
}

}  // namespace mendworth
