#include "model/purchase.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>

#include "base/sort_unique.hpp"

namespace mendworth {
namespace {

constexpr int kMostPieces = std::numeric_limits<int>::max();

double other_goods(const Supplier& supplier, Parcel parcel) {
  return parcel == Parcel::with_other_goods ? supplier.other_goods : 0;
}

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

// In each segment of the price ladder the least_reaching. Rising.
std::vector<int> quantities_reaching(const Offer& offer, double goods, int above) {
  std::vector<int> quantities;
  for (std::size_t k = 0; k < offer.prices.size() && above < kMostPieces; ++k) {
    if (const auto quantity = least_reaching(offer, k, above + 1, goods)) quantities.push_back(*quantity);
  }
  return quantities;
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

std::optional<int> least_reaching(const Offer& offer, std::size_t segment, int least, double goods) {
  const bool last = segment + 1 == offer.prices.size();
  const int highest = last ? kMostPieces : offer.prices[segment + 1].from - 1;
  const double each = offer.prices[segment].each.base();
  const double wanted = goods - offer.line_fee.base();
  double pieces = std::max(segment == 0 ? 1 : offer.prices[segment].from, least);
  if (each > 0) {
    pieces = std::max(pieces, std::ceil((wanted - slack(wanted)) / each));
  } else if (exceeds(wanted, 0)) {
    return std::nullopt;
  }
  if (pieces > highest) return std::nullopt;
  const std::optional<int> quantity = least_allowed(offer, static_cast<int>(pieces));
  return quantity && *quantity <= highest ? quantity : std::nullopt;
}

ParcelTerms parcel_terms(const Supplier& supplier, double goods, Parcel parcel) {
  const double whole = goods + other_goods(supplier, parcel);
  ParcelTerms terms;
  terms.shipping = shipping_price(supplier, whole);
  terms.low = !reaches(whole, supplier.low_order_below.base());
  const double customs_value = whole + (supplier.duty_on_shipping ? terms.shipping : 0);
  terms.dutiable = supplier.duty.base() > 0 && exceeds(customs_value, supplier.duty_free_up_to.base());
  return terms;
}

double landed_slope(const Supplier& supplier, bool dutiable) {
  const double tax = 1 + supplier.tax.base();
  const double duty = dutiable ? supplier.duty.base() : 0;
  return supplier.exchange_rate.base() * tax * (1 + supplier.exchange_fee.base() + duty);
}

LandedCost cost_on_terms(const Supplier& supplier, const ParcelTerms& terms, double goods, Parcel parcel) {
  const double whole = goods + other_goods(supplier, parcel);
  const double share = whole > 0 ? goods / whole : 1;
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

std::optional<LandedCost> supplier_cost(const Supplier& supplier, double goods, Parcel parcel) {
  const ParcelTerms terms = parcel_terms(supplier, goods, parcel);
  if (terms.low && supplier.refuses_low_orders) return std::nullopt;
  return cost_on_terms(supplier, terms, goods, parcel);
}

std::vector<double> thresholds_above(const Supplier& supplier, double goods, Parcel parcel) {
  std::vector<double> thresholds;
  const double others = other_goods(supplier, parcel);
  const auto add_limit = [&](double limit) {
    if (!reaches(goods + others, limit)) thresholds.push_back(limit - others);
  };
  for (const ShippingTier& tier : supplier.shipping) add_limit(tier.goods_from);
  add_limit(supplier.low_order_below.base());
  std::sort(thresholds.begin(), thresholds.end());
  thresholds.erase(std::unique(thresholds.begin(), thresholds.end()), thresholds.end());
  return thresholds;
}

std::optional<LandedCost> landed_cost(const Case& c, std::span<const OrderItem> items, Parcel parcel) {
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
        supplier_cost(c.suppliers[static_cast<std::size_t>(supplier)], goods, parcel);
    if (!cost) return std::nullopt;
    add(sum, *cost);
  }
  sum.total = total_of(sum);
  return sum;
}

double landed_share(const Case& c, std::span<const OrderItem> items, std::size_t line, Parcel parcel) {
  const int supplier = offer_of(c, items[line]).supplier;
  double goods = 0;
  double pieces = 0;
  for (const OrderItem& item : items) {
    if (item.quantity < 1 || offer_of(c, item).supplier != supplier) continue;
    goods += line_price(offer_of(c, item), item.quantity);
    pieces += item.quantity;
  }
  const std::optional<LandedCost> cost = supplier_cost(supplier_of(c, items[line]), goods, parcel);
  if (!cost) throw std::invalid_argument("landed_share: a supplier refuses this order");
  if (goods > 0) return cost->total * line_price(offer_of(c, items[line]), items[line].quantity) / goods;
  return cost->total * items[line].quantity / pieces;
}

std::vector<int> pack_quantities(const Candidate& candidate, int pieces) {
  std::vector<int> quantities;
  for (const Offer& offer : candidate.offers) {
    if (const std::optional<int> quantity = least_allowed(offer, pieces)) quantities.push_back(*quantity);
  }
  sort_unique(quantities);
  return quantities;
}

std::vector<int> turning_points(const Offer& offer, const Supplier& supplier, double rest, int above,
                                Parcel parcel) {
  std::vector<int> quantities;
  for (std::size_t k = 1; k < offer.prices.size(); ++k) {
    if (offer.prices[k].from <= above) continue;
    if (const std::optional<int> first = least_allowed(offer, offer.prices[k].from))
      quantities.push_back(*first);
  }
  for (const double goods : thresholds_above(supplier, rest, parcel)) {
    const std::vector<int> reaching = quantities_reaching(offer, goods - rest, above);
    quantities.insert(quantities.end(), reaching.begin(), reaching.end());
  }
  sort_unique(quantities);
  return quantities;
}

std::vector<int> turning_points(const Case& c, std::span<const OrderItem> items, std::size_t line, int above,
                                Parcel parcel) {
  std::vector<int> quantities;
  for (const Offer& offer : candidate_of(c, items[line]).offers) {
    double rest = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
      const Offer& other = offer_of(c, items[i]);
      if (i != line && other.supplier == offer.supplier) rest += line_price(other, items[i].quantity);
    }
    const Supplier& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    const std::vector<int> more = turning_points(offer, supplier, rest, above, parcel);
    quantities.insert(quantities.end(), more.begin(), more.end());
  }
  return quantities;
}

}  // namespace mendworth
