#include "mendworth/buy.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "answers/buy_baskets.hpp"
#include "answers/buy_ladders.hpp"
#include "answers/contest.hpp"
#include "answers/labels.hpp"
#include "answers/notes.hpp"
#include "answers/order_answer.hpp"
#include "answers/purchase_answer.hpp"
#include "answers/settings.hpp"
#include "answers/what_if.hpp"

namespace mendworth {
namespace {

constexpr int most_baskets = 50;
constexpr int most_wanted = 1'000'000;

WeighSettings weighing_settings(const BuySettings& settings) {
  if (settings.baskets < 1 || settings.baskets > most_baskets)
    throw std::invalid_argument(fmt::format("baskets must lie in 1..{}", most_baskets));
  for (const auto& wanted : settings.pieces) {
    if (wanted.pieces < 1 || wanted.pieces > most_wanted)
      throw std::invalid_argument(fmt::format("pieces must lie in 1..{}", most_wanted));
  }
  return checked({.seed = settings.seed, .futures = settings.futures, .threads = settings.threads});
}

/// What the plan renews now, or what is asked for in its place.
std::vector<int> wanted_pieces(const Contest& contest, const Option& option, const BuySettings& settings) {
  const Case& c = contest.model.c;
  std::vector<int> pieces = contest.pieces_of(option.plan);
  for (const auto& [name, number] : settings.pieces) {
    const auto found = std::find_if(c.parts.begin(), c.parts.end(),
                                    [&name = name](const Part& part) { return part.name == name; });
    if (found == c.parts.end()) throw std::invalid_argument(fmt::format("the case has no part '{}'", name));
    pieces[static_cast<std::size_t>(found - c.parts.begin())] = number;
  }
  return pieces;
}

/// The best basket in the words of a weighing, with what leftovers are worth.
OrderAnswer order_of(const Case& c, const Basket& best, const std::vector<WishedPart>& wished,
                     const std::string& plan) {
  OrderAnswer order = describe_order(c, Order{best.items, best.cost}, pieces_needed(best, wished));
  order.plan = plan;
  order.leftover_value = best.leftover_worth;
  order.charged_by_reuse = order.charged_whole - best.leftover_worth;
  return order;
}

/// What a weighing says of the leftovers of the same order.
void take_worth(OrderAnswer& order, const OrderAnswer& weighed) {
  const bool is_same =
      weighed.leftovers == order.leftovers && std::abs(weighed.charged_whole - order.charged_whole) < 1e-9;
  if (!is_same) return;
  order.leftover_value = weighed.leftover_value;
  order.charged_by_reuse = weighed.charged_by_reuse;
}

}  // namespace

Buying buy(const Case& c, const RateBook& rates, const BuySettings& wanted) {
  check(c);
  const WeighSettings weighing = weighing_settings(wanted);
  Buying b;
  b.settings = wanted;
  b.settings.progress = nullptr;
  b.settings.threads = weighing.threads;
  b.source_name = c.source_name;
  b.device = c.device.name;
  b.currency = c.device.currency;
  b.minor_digits = c.device.minor_digits;
  b.cautions = cautions_of(c, rates);

  ModelCache cache;
  Effort effort = effort_for(weighing);
  if (wanted.progress) {
    effort.progress = [&wanted](const BasketProgress& search) { wanted.progress(search.done); };
  }
  const Contest contest(c, rates, {}, weighing, effort, cache);
  b.settings.futures = contest.ensemble.futures;
  const std::vector<double> costs = contest.mean_costs();
  if (contest.referred) {
    b.notes.push_back(
        "This work is not for one's own hands, so that there is nothing to order: whoever is licensed "
        "to do it brings the parts along.");
    return b;
  }
  const auto repair = contest.best_repair(costs);
  if (!repair) {
    b.notes.insert(b.notes.end(), contest.notes.begin(), contest.notes.end());
    return b;
  }
  const auto best = contest.least(costs, [](std::size_t) { return true; });
  const Option& option = contest.options[*repair];
  b.plan = option_name(c, option);
  // Without a price of a replacement there is nothing to say for or against the repair here.
  b.repair_is_best = contest.unpriced || *best == *repair;
  b.best_course = option_name(c, contest.options[*best]);

  const Purchase purchase = contest.purchase_of(option, wanted_pieces(contest, option, b.settings));
  const auto& wished = purchase.wished;
  const Case& shop = purchase.shop;
  const auto basket = answer_baskets(b, shop, wished);
  if (!basket) return b;
  const bool from_drawer =
      std::any_of(basket->items.begin(), basket->items.end(), [&](const OrderItem& item) {
        return offer_of(shop, item).supplier == static_cast<int>(c.suppliers.size());
      });
  if (from_drawer) {
    b.notes.push_back(
        "Pieces from the drawer are priced at what they would save elsewhere; nothing is to be paid for "
        "them.");
  }
  b.order = order_of(shop, *basket, wished, b.plan);
  if (wanted.pieces.empty()) take_worth(b.order, purchase_answer(contest, *repair, weighing).order);
  answer_fit(b, shop, wished, *basket);
  answer_spares(b, c, wished, *basket);
  answer_ladders(b, shop, wished, *basket);
  answer_suppliers(b, shop, *basket);
  for (const auto& part : wished) {
    const auto& kind = c.parts[static_cast<std::size_t>(part.wish.part)];
    const int tried = candidates_tried(kind);
    if (part.misfit.none((1U << static_cast<unsigned>(tried)) - 1U) >= 1.0) {
      b.notes.push_back(fmt::format("Nothing on offer for the part '{}' can fit.", kind.name));
    }
    if (static_cast<int>(kind.candidates.size()) > tried) {
      b.notes.push_back(
          fmt::format("Of the part '{}' only the first {} candidates were considered.", kind.name, tried));
    }
  }
  return b;
}

}  // namespace mendworth
