#include "answers/drawer_offers.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cstddef>
#include <limits>

namespace mendworth {
namespace {

Supplier drawer_supplier(const Case& c) {
  Supplier drawer;
  drawer.name = "the drawer";
  drawer.currency = c.device.currency;
  drawer.exchange_rate = Quantity::exactly(1.0);
  drawer.shipping.push_back({.goods_from = 0, .price = Quantity::exactly(0.0)});
  return drawer;
}

double worth_of(const WorthCurve& curve, int pieces) {
  return curve.empty() ? 0.0 : curve[std::min(static_cast<std::size_t>(pieces), curve.size() - 1)];
}

// The price of n pieces together is what the drawer is worth with them less what it is worth without.
Offer drawer_offer(int supplier, const WorthCurve& elsewhere, int on_hand, int need) {
  Offer offer;
  offer.supplier = supplier;
  offer.stock = std::min(on_hand, need);
  for (int n = 1; n <= *offer.stock; ++n) {
    const double together = worth_of(elsewhere, on_hand) - worth_of(elsewhere, on_hand - n);
    offer.prices.push_back({.from = n, .each = Quantity::exactly(together / n)});
  }
  return offer;
}

// Infinite: cannot be had.
double net_of(const Case& shop, const std::vector<WishedPart>& wished) {
  std::vector<PartWish> wishes;
  for (const auto& part : wished) wishes.push_back(part.wish);
  const auto search =
      best_baskets(shop, wishes, shop.downtime.per_day.base(), {.most_steps = most_basket_steps / 20}, 1);
  return search.best.empty() ? std::numeric_limits<double>::infinity() : search.best.front().net();
}

// The pieces at hand of one candidate are taken, and only it is bought.
PartWish topped_up(PartWish wish, std::size_t candidate, int on_hand, double worth) {
  wish.pieces -= on_hand;
  wish.hedges.clear();
  for (std::size_t k = 0; k < wish.alone.size(); ++k) {
    if (k != candidate) wish.alone[k].misfit_cost = std::numeric_limits<double>::infinity();
  }
  wish.alone[candidate].misfit_cost += worth;
  return wish;
}

}  // namespace

Case with_drawer_offers(const Case& c, std::span<const WishedPart> wished) {
  Case shop = c;
  const int drawer = static_cast<int>(c.suppliers.size());
  bool any = false;
  for (const WishedPart& part : wished) {
    auto& candidates = shop.parts[static_cast<std::size_t>(part.wish.part)].candidates;
    for (std::size_t k = 0; k < part.wish.alone.size(); ++k) {
      const int on_hand = candidates[k].on_hand;
      if (on_hand < 1) continue;
      any = true;
      candidates[k].offers.push_back(
          drawer_offer(drawer, part.spares.candidates[k].elsewhere, on_hand, part.wish.pieces));
    }
  }
  if (any) shop.suppliers.push_back(drawer_supplier(c));
  // They are on offer now; nothing else may count them.
  for (auto& part : shop.parts) {
    for (auto& candidate : part.candidates) candidate.on_hand = 0;
  }
  return shop;
}

std::vector<std::string> take_from_drawer(const Case& c, const Case& shop, std::vector<WishedPart>& wished) {
  std::vector<std::string> sentences;
  for (WishedPart& part : wished) {
    const auto& candidates = c.parts[static_cast<std::size_t>(part.wish.part)].candidates;
    const PartWish whole = part.wish;
    double least = -1;
    std::string sentence;
    PartWish chosen = whole;
    for (std::size_t k = 0; k < whole.alone.size(); ++k) {
      const int on_hand = candidates[k].on_hand;
      if (on_hand < 1 || on_hand >= whole.pieces) continue;
      if (least < 0) least = net_of(shop, wished);
      const double worth = worth_of(part.spares.candidates[k].elsewhere, on_hand);
      part.wish = topped_up(whole, k, on_hand, worth);
      const double net = net_of(shop, wished);
      if (net < least) {
        least = net;
        chosen = part.wish;
        sentence = fmt::format(
            "{} of the {} pieces of '{}' come from the drawer, and only the missing ones are ordered. What "
            "those at "
            "hand would save elsewhere is counted with the cost of a misfit.",
            on_hand, whole.pieces, candidates[k].name);
      }
      part.wish = whole;
    }
    part.wish = chosen;
    if (!sentence.empty()) sentences.push_back(std::move(sentence));
  }
  return sentences;
}

}  // namespace mendworth
