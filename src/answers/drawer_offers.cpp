#include "answers/drawer_offers.hpp"

#include <algorithm>
#include <cstddef>

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

}  // namespace mendworth
