#include "model/purchase.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

namespace mendworth {
namespace {

constexpr int kMostPieces = std::numeric_limits<int>::max();

// Sums of prices miss a round limit by a few ulps; a buyer who reaches it to the cent has reached it.
double slack(double limit) { return 1e-9 * std::max(1.0, std::abs(limit)); }
bool reaches(double value, double limit) { return value >= limit - slack(limit); }
bool exceeds(double value, double limit) { return value > limit + slack(limit); }

double shipping_price(const Supplier& supplier, double parcel_goods) {
  double price = supplier.shipping.front().price.base();
  for (const ShippingTier& tier : supplier.shipping) {
    if (!reaches(parcel_goods, tier.goods_from)) break;
    price = tier.price.base();
  }
  return price;
}

void add(LandedCost& sum, const LandedCost& term) {
  sum.goods += term.goods;
  sum.shipping += term.shipping;
  sum.fees += term.fees;
  sum.duty += term.duty;
  sum.tax += term.tax;
  sum.exchange_fee += term.exchange_fee;
  sum.wait_days = std::max(sum.wait_days, term.wait_days);
}

double total_of(const LandedCost& cost) {
  return cost.goods + cost.shipping + cost.fees + cost.duty + cost.tax + cost.exchange_fee;
}

void sort_unique(std::vector<int>& values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
}

// In each segment of the price ladder, the least allowed quantity above `above` whose line comes to at least
// `goods`. Rising.
std::vector<int> quantities_reaching(const Offer& offer, double goods, int above) {
  const double wanted = goods - offer.line_fee.base();
  std::vector<int> quantities;
  for (std::size_t k = 0; k < offer.prices.size(); ++k) {
    const bool last = k + 1 == offer.prices.size();
    const int highest = last ? kMostPieces : offer.prices[k + 1].from - 1;
    const double each = offer.prices[k].each.base();
    double pieces = std::max(k == 0 ? 1.0 : offer.prices[k].from, above + 1.0);
    if (each > 0) {
      pieces = std::max(pieces, std::ceil((wanted - slack(wanted)) / each));
    } else if (exceeds(wanted, 0)) {
      continue;
    }
    if (pieces > highest) continue;
    const std::optional<int> quantity = least_allowed(offer, static_cast<int>(pieces));
    if (quantity && *quantity <= highest) quantities.push_back(*quantity);
  }
  return quantities;
}

const Candidate& candidate_of(const Case& c, const Need& need) {
  return c.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
}

// What the lines other than `line` may come to at a supplier, over the ways to divide them. Beyond some number
// of sums the rest is left out: a top-up may then be missed.
std::vector<double> possible_rests(const Case& c, std::span<const Need> needs, std::size_t line,
                                   int supplier) {
  constexpr std::size_t kMostSums = 64;
  std::vector<double> sums{0.0};
  for (std::size_t i = 0; i < needs.size(); ++i) {
    if (i == line) continue;
    std::vector<double> next;
    bool elsewhere = false;
    for (const Offer& offer : candidate_of(c, needs[i]).offers) {
      if (!is_allowed(offer, needs[i].pieces)) continue;
      if (offer.supplier != supplier) {
        elsewhere = true;
        continue;
      }
      const double price = line_price(offer, needs[i].pieces);
      for (const double sum : sums) next.push_back(sum + price);
    }
    if (elsewhere) next.insert(next.end(), sums.begin(), sums.end());
    std::sort(next.begin(), next.end());
    next.erase(std::unique(next.begin(), next.end()), next.end());
    if (next.size() > kMostSums) next.resize(kMostSums);
    sums = std::move(next);
  }
  return sums;
}

// Larger quantities of one line that cost less than every smaller one, the other lines as they are: cheaper_in_all
// without a search. `items` is left with the cheapest of them, if there is any.
std::vector<int> cheaper_beside(const Case& c, std::vector<OrderItem>& items, std::size_t line,
                                double day_cost) {
  const std::vector<Offer>& offers = candidate_of(c, items[line]).offers;
  const int pieces = items[line].quantity;
  std::vector<int> quantities = pack_quantities(candidate_of(c, items[line]), pieces);
  const std::vector<int> more = turning_points(c, items, line, pieces);
  quantities.insert(quantities.end(), more.begin(), more.end());
  sort_unique(quantities);

  OrderItem best = items[line];
  const std::optional<LandedCost> now = landed_cost(c, items);
  double least = now ? now->total + day_cost * now->wait_days : std::numeric_limits<double>::infinity();
  std::vector<int> cheaper;
  for (const int quantity : quantities) {
    if (quantity <= pieces) continue;
    items[line].quantity = quantity;
    bool found = false;
    for (std::size_t k = 0; k < offers.size(); ++k) {
      if (!is_allowed(offers[k], quantity)) continue;
      items[line].offer = static_cast<int>(k);
      const std::optional<LandedCost> cost = landed_cost(c, items);
      if (!cost || !exceeds(least, cost->total + day_cost * cost->wait_days)) continue;
      least = cost->total + day_cost * cost->wait_days;
      best = items[line];
      found = true;
    }
    if (found) cheaper.push_back(quantity);
  }
  items[line] = best;
  return cheaper;
}

// A need's goods with tax and exchange, case currency, at the offer where they come to least; infinite if
// nobody sells that many. No order costs less than the sum of these.
double least_landed_goods(const Case& c, const Need& need) {
  double least = std::numeric_limits<double>::infinity();
  for (const Offer& offer : candidate_of(c, need).offers) {
    if (!is_allowed(offer, need.pieces)) continue;
    const Supplier& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    least = std::min(least, line_price(offer, need.pieces) * supplier.exchange_rate.base() *
                                (1 + supplier.tax.base()) * (1 + supplier.exchange_fee.base()));
  }
  return least;
}

}  // namespace

bool is_allowed(const Offer& offer, int quantity) {
  return quantity >= 1 && quantity >= offer.least && quantity % offer.multiple == 0 &&
         (!offer.stock || quantity <= *offer.stock);
}

std::optional<int> least_allowed(const Offer& offer, int pieces) {
  const std::int64_t wanted = std::max({pieces, offer.least, 1});
  const std::int64_t multiple = offer.multiple;
  const std::int64_t quantity = (wanted + multiple - 1) / multiple * multiple;
  if (quantity > offer.stock.value_or(kMostPieces)) return std::nullopt;
  return static_cast<int>(quantity);
}

double unit_price(const Offer& offer, int quantity) {
  const PriceBreak* reached = &offer.prices.front();
  for (const PriceBreak& next : offer.prices) {
    if (next.from > quantity) break;
    reached = &next;
  }
  return reached->each.base();
}

double line_price(const Offer& offer, int quantity) {
  return quantity * unit_price(offer, quantity) + offer.line_fee.base();
}

ParcelTerms parcel_terms(const Supplier& supplier, double goods) {
  const double parcel = goods + supplier.other_goods;
  ParcelTerms terms;
  terms.shipping = shipping_price(supplier, parcel);
  terms.low = !reaches(parcel, supplier.low_order_below.base());
  const double customs_value = parcel + (supplier.duty_on_shipping ? terms.shipping : 0);
  terms.dutiable = exceeds(customs_value, supplier.duty_free_up_to.base());
  return terms;
}

LandedCost cost_on_terms(const Supplier& supplier, const ParcelTerms& terms, double goods) {
  const double parcel = goods + supplier.other_goods;
  const double share = parcel > 0 ? goods / parcel : 1;
  const double shipping = share * terms.shipping;
  const double low_order_fee = terms.low ? share * supplier.low_order_fee.base() : 0;

  double duty = 0;
  double customs_fee = 0;
  if (terms.dutiable) {
    duty = supplier.duty.base() * (goods + (supplier.duty_on_shipping ? shipping : 0));
    customs_fee = share * supplier.customs_fee.base();
  }
  const double tax_rate = supplier.tax.base();
  const double before_tax = goods + shipping + low_order_fee;
  const double exchange = supplier.exchange_rate.base();

  LandedCost cost;
  cost.goods = exchange * goods;
  cost.shipping = exchange * shipping;
  cost.fees = exchange * (low_order_fee + customs_fee);
  cost.duty = exchange * duty;
  cost.tax = exchange * tax_rate * (before_tax + duty);
  cost.exchange_fee = exchange * supplier.exchange_fee.base() * (before_tax + tax_rate * before_tax);
  cost.total = total_of(cost);
  cost.wait_days = supplier.lead_days.base();
  return cost;
}

std::optional<LandedCost> supplier_cost(const Supplier& supplier, double goods) {
  const ParcelTerms terms = parcel_terms(supplier, goods);
  if (terms.low && supplier.refuses_low_orders) return std::nullopt;
  return cost_on_terms(supplier, terms, goods);
}

std::vector<double> thresholds_above(const Supplier& supplier, double goods) {
  std::vector<double> thresholds;
  const double parcel = goods + supplier.other_goods;
  const auto add_limit = [&](double limit) {
    if (!reaches(parcel, limit)) thresholds.push_back(limit - supplier.other_goods);
  };
  for (const ShippingTier& tier : supplier.shipping) add_limit(tier.goods_from);
  add_limit(supplier.low_order_below.base());
  std::sort(thresholds.begin(), thresholds.end());
  thresholds.erase(std::unique(thresholds.begin(), thresholds.end()), thresholds.end());
  return thresholds;
}

std::optional<LandedCost> landed_cost(const Case& c, std::span<const OrderItem> items) {
  LandedCost sum;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].quantity < 1) continue;
    // The first line at a supplier stands for all of them: orders are so short that this beats keeping a
    // list.
    const int supplier = offer_of(c, items[i]).supplier;
    bool first = true;
    double goods = 0;
    for (std::size_t k = 0; k < items.size() && first; ++k) {
      const Offer& offer = offer_of(c, items[k]);
      if (items[k].quantity < 1 || offer.supplier != supplier) continue;
      first = k >= i;
      goods += line_price(offer, items[k].quantity);
    }
    if (!first) continue;
    const std::optional<LandedCost> cost =
        supplier_cost(c.suppliers[static_cast<std::size_t>(supplier)], goods);
    if (!cost) return std::nullopt;
    add(sum, *cost);
  }
  sum.total = total_of(sum);
  return sum;
}

std::vector<int> pack_quantities(const Candidate& candidate, int pieces) {
  std::vector<int> quantities;
  for (const Offer& offer : candidate.offers) {
    if (const std::optional<int> quantity = least_allowed(offer, pieces)) quantities.push_back(*quantity);
  }
  sort_unique(quantities);
  return quantities;
}

std::vector<int> turning_points(const Offer& offer, const Supplier& supplier, double rest, int above) {
  std::vector<int> quantities;
  for (std::size_t k = 1; k < offer.prices.size(); ++k) {
    if (offer.prices[k].from <= above) continue;
    if (const std::optional<int> first = least_allowed(offer, offer.prices[k].from))
      quantities.push_back(*first);
  }
  for (const double goods : thresholds_above(supplier, rest)) {
    const std::vector<int> reaching = quantities_reaching(offer, goods - rest, above);
    quantities.insert(quantities.end(), reaching.begin(), reaching.end());
  }
  sort_unique(quantities);
  return quantities;
}

std::vector<int> turning_points(const Case& c, std::span<const OrderItem> items, std::size_t line,
                                int above) {
  std::vector<int> quantities;
  for (const Offer& offer : candidate_of(c, items[line]).offers) {
    double rest = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
      const Offer& other = offer_of(c, items[i]);
      if (i != line && other.supplier == offer.supplier) rest += line_price(other, items[i].quantity);
    }
    const Supplier& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    const std::vector<int> more = turning_points(offer, supplier, rest, above);
    quantities.insert(quantities.end(), more.begin(), more.end());
  }
  return quantities;
}

std::vector<int> top_ups(const Case& c, std::span<const OrderItem> items, std::size_t line) {
  std::vector<OrderItem> order(items.begin(), items.end());
  const Offer& offer = offer_of(c, order[line]);
  const int quantity = order[line].quantity;
  double rest = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Offer& other = offer_of(c, order[i]);
    if (i != line && order[i].quantity >= 1 && other.supplier == offer.supplier) {
      rest += line_price(other, order[i].quantity);
    }
  }
  std::vector<int> reaching;
  for (const double goods :
       thresholds_above(supplier_of(c, order[line]), rest + line_price(offer, quantity))) {
    const std::vector<int> more = quantities_reaching(offer, goods - rest, quantity);
    reaching.insert(reaching.end(), more.begin(), more.end());
  }
  sort_unique(reaching);

  const std::optional<LandedCost> now = landed_cost(c, order);
  double least = now ? now->total : std::numeric_limits<double>::infinity();
  std::vector<int> result;
  for (const int more : reaching) {
    order[line].quantity = more;
    const std::optional<LandedCost> then = landed_cost(c, order);
    if (!then || !exceeds(least, then->total)) continue;
    least = then->total;
    result.push_back(more);
  }
  return result;
}

std::vector<int> cheaper_in_all(const Case& c, std::span<const Need> needs, std::size_t line,
                                double day_cost) {
  if (needs.size() > most_lines_divided_anew) {
    std::optional<Order> order = cheapest_order(c, needs, day_cost);
    return order ? cheaper_beside(c, order->items, line, day_cost) : std::vector<int>{};
  }
  const int pieces = needs[line].pieces;
  const Candidate& bought = candidate_of(c, needs[line]);
  std::vector<int> quantities = pack_quantities(bought, pieces);
  for (const Offer& offer : bought.offers) {
    const Supplier& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    for (const double rest : possible_rests(c, needs, line, offer.supplier)) {
      const std::vector<int> more = turning_points(offer, supplier, rest, pieces);
      quantities.insert(quantities.end(), more.begin(), more.end());
    }
  }
  sort_unique(quantities);

  std::vector<Need> order(needs.begin(), needs.end());
  double rest_at_least = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    if (i != line) rest_at_least += least_landed_goods(c, order[i]);
  }
  double least = std::numeric_limits<double>::infinity();
  std::vector<int> cheaper;
  const auto costs_less_with = [&](int quantity) {
    order[line].pieces = quantity;
    // Most large quantities are ruled out by the price of their goods alone.
    if (!exceeds(least, rest_at_least + least_landed_goods(c, order[line]))) return false;
    const std::optional<Order> found = cheapest_order(c, order, day_cost);
    if (!found) return false;
    const double cost = found->cost.total + day_cost * found->cost.wait_days;
    if (!exceeds(least, cost)) return false;
    least = cost;
    return true;
  };
  costs_less_with(pieces);
  for (const int quantity : quantities) {
    if (quantity > pieces && costs_less_with(quantity)) cheaper.push_back(quantity);
  }
  return cheaper;
}

std::vector<Need> enlarged(const Case& c, std::vector<Need> needs, double day_cost) {
  // Every step costs less than the one before, so that this comes to an end.
  if (needs.size() > most_lines_divided_anew) {
    std::optional<Order> order = cheapest_order(c, needs, day_cost);
    for (bool again = order.has_value(); again;) {
      again = false;
      for (std::size_t i = 0; i < needs.size(); ++i) {
        if (cheaper_beside(c, order->items, i, day_cost).empty()) continue;
        needs[i].pieces = order->items[i].quantity;
        again = true;
      }
    }
    return needs;
  }
  for (bool again = true; again;) {
    again = false;
    for (std::size_t i = 0; i < needs.size(); ++i) {
      const std::vector<int> cheaper = cheaper_in_all(c, needs, i, day_cost);
      if (cheaper.empty()) continue;
      needs[i].pieces = cheaper.back();
      again = needs.size() > 1;
    }
  }
  return needs;
}

std::vector<int> stocking_quantities(const Candidate& candidate, int need, int least_spares, int limit) {
  std::vector<int> chosen;
  const auto keep = [&](const std::vector<int>& quantities) {
    for (const int quantity : quantities) {
      const bool known = std::find(chosen.begin(), chosen.end(), quantity) != chosen.end();
      if (!known && static_cast<std::int64_t>(chosen.size()) < limit) chosen.push_back(quantity);
    }
  };
  const auto keep_spares = [&](int spares) {
    if (spares >= least_spares && need <= kMostPieces - spares)
      keep(pack_quantities(candidate, need + spares));
  };
  const auto keep_breaks = [&](int which) {
    std::vector<int> breaks;
    for (const Offer& offer : candidate.offers) {
      const std::optional<int> pack = least_allowed(offer, need);
      int seen = 0;
      for (const PriceBreak& next : offer.prices) {
        if (!pack || next.from <= *pack || seen++ != which || next.from - need < least_spares) continue;
        if (const std::optional<int> quantity = least_allowed(offer, next.from)) breaks.push_back(*quantity);
      }
    }
    sort_unique(breaks);
    keep(breaks);
  };
  keep_spares(0);
  keep_spares(1);
  keep_breaks(0);
  for (const int spares : {2, 3, 5, 8}) keep_spares(spares);
  keep_breaks(1);
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

std::vector<int> quantities_of_interest(const Case& c, int part, int candidate, int need, int limit) {
  OrderItem item{part, candidate, 0, 0};
  const Candidate& bought = candidate_of(c, item);
  std::vector<int> chosen;
  const auto keep = [&](std::vector<int> quantities) {
    sort_unique(quantities);
    for (const int quantity : quantities) {
      const bool known = std::find(chosen.begin(), chosen.end(), quantity) != chosen.end();
      if (!known && static_cast<std::int64_t>(chosen.size()) < limit) chosen.push_back(quantity);
    }
  };
  keep(pack_quantities(bought, need));

  std::vector<int> topped_up;
  std::vector<int> breaks;
  for (std::size_t k = 0; k < bought.offers.size(); ++k) {
    const Offer& offer = bought.offers[k];
    const std::optional<int> pack = least_allowed(offer, need);
    if (!pack) continue;
    item.offer = static_cast<int>(k);
    item.quantity = *pack;
    const std::vector<int> more = top_ups(c, std::span<const OrderItem>(&item, 1), 0);
    topped_up.insert(topped_up.end(), more.begin(), more.end());

    int seen = 0;
    for (const PriceBreak& next : offer.prices) {
      if (next.from <= *pack || seen == 2) continue;
      if (const std::optional<int> quantity = least_allowed(offer, next.from)) breaks.push_back(*quantity);
      ++seen;
    }
  }
  keep(topped_up);
  if (need < kMostPieces) keep(pack_quantities(bought, need + 1));
  keep(breaks);
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

}  // namespace mendworth
