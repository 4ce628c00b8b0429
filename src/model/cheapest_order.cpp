#include <algorithm>
#include <cmath>
#include <limits>

#include "model/basket.hpp"

namespace mendworth {
namespace {

const Candidate& candidate_of(const Case& c, const Need& need) {
  return c.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
}

bool may_be_split(const Candidate& candidate, int pieces) {
  return std::any_of(candidate.offers.begin(), candidate.offers.end(), [&](const Offer& offer) {
    return !least_allowed(offer, pieces) && least_allowed(offer, 1);
  });
}

/// One line of one offer: within a price an order costs less for more pieces only where it reaches a limit.
class OneLine {
 public:
  OneLine(const Case& c, const Need& need, double day_cost, Parcel parcel)
      : c_(c), need_(need), day_cost_(day_cost), parcel_(parcel) {}

  std::optional<Order> run() {
    const Candidate& candidate = candidate_of(c_, need_);
    for (std::size_t k = 0; k < candidate.offers.size(); ++k)
      try_offer(candidate.offers[k], static_cast<int>(k));
    if (best_.quantity == 0) return std::nullopt;
    return Order{{best_}, cost_, false};
  }

 private:
  void try_offer(const Offer& offer, int index) {
    const Supplier& supplier = c_.suppliers[static_cast<std::size_t>(offer.supplier)];
    const double others = parcel_ == Parcel::with_other_goods ? supplier.other_goods : 0;
    const double slope = landed_slope(supplier, false);
    const double waiting = day_cost_ * supplier.lead_days.base();
    for (std::size_t segment = 0; segment < offer.prices.size(); ++segment) {
      const std::optional<int> first = least_reaching(offer, segment, need_.pieces, 0);
      if (!first) continue;
      const double goods = line_price(offer, *first);
      // All that comes on top of the goods is not negative.
      if (slope * goods + waiting > least_) continue;
      price(supplier, index, *first, goods);
      const auto reach = [&](double limit) {
        if (limit - others <= goods) return;
        const std::optional<int> more = least_reaching(offer, segment, *first + 1, limit - others);
        if (!more) return;
        const double more_goods = line_price(offer, *more);
        if (slope * more_goods + waiting <= least_) price(supplier, index, *more, more_goods);
      };
      reach(supplier.low_order_below.base());
      for (const ShippingTier& tier : supplier.shipping) reach(tier.goods_from);
    }
  }

  void price(const Supplier& supplier, int offer, int quantity, double goods) {
    const std::optional<LandedCost> cost = supplier_cost(supplier, goods, parcel_);
    if (!cost) return;
    const double net = cost->total + day_cost_ * cost->wait_days;
    const double rounding = 1e-10 * std::max(1.0, std::abs(net));
    if (best_.quantity > 0 &&
        (net > least_ + rounding || (net >= least_ - rounding && quantity >= best_.quantity)))
      return;
    least_ = net;
    best_ = {need_.part, need_.candidate, offer, quantity};
    cost_ = *cost;
  }

  const Case& c_;
  const Need& need_;
  double day_cost_;
  Parcel parcel_;
  double least_ = std::numeric_limits<double>::infinity();
  OrderItem best_;
  LandedCost cost_;
};

}  // namespace

std::optional<Order> cheapest_order(const Case& c, std::span<const Need> needs, double day_cost,
                                    Parcel parcel) {
  if (needs.size() == 1 && !may_be_split(candidate_of(c, needs.front()), needs.front().pieces))
    return OneLine(c, needs.front(), day_cost, parcel).run();
  std::vector<PartWish> wishes;
  for (const Need& need : needs) {
    const auto same = [&](const PartWish& wish) {
      return wish.part == need.part && wish.alone.size() == static_cast<std::size_t>(need.candidate) + 1;
    };
    const auto known = std::find_if(wishes.begin(), wishes.end(), same);
    if (known != wishes.end()) {
      known->pieces += need.pieces;
      continue;
    }
    PartWish wish{.part = need.part, .pieces = need.pieces};
    wish.alone.resize(static_cast<std::size_t>(need.candidate) + 1,
                      {.misfit_cost = std::numeric_limits<double>::infinity()});
    wish.alone.back().misfit_cost = 0;
    wishes.push_back(std::move(wish));
  }
  const BasketSearch search = best_baskets(c, wishes, day_cost, {.parcel = parcel}, 1);
  if (search.best.empty()) return std::nullopt;
  const Basket& basket = search.best.front();
  Order order{{}, basket.cost, !search.proved};
  for (const PartWish& wish : wishes) {
    for (const OrderItem& item : basket.items) {
      if (item.part == wish.part && static_cast<std::size_t>(item.candidate) + 1 == wish.alone.size())
        order.items.push_back(item);
    }
  }
  return order;
}

}  // namespace mendworth
