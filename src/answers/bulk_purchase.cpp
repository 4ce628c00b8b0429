#include "answers/bulk_purchase.hpp"

#include <algorithm>
#include <vector>

namespace mendworth {
namespace {

const Candidate& candidate_of(const Case& c, const Need& need) {
  return c.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
}

/// All that an offer has in stock and would sell.
int most_of(const Offer& offer) {
  const int packs = *offer.stock / offer.multiple * offer.multiple;
  return packs >= std::max(offer.least, 1) ? packs : 0;
}

/// More pieces than any single offer has: all that the cheapest ones have, and the rest at one more. Empty if all of
/// them together have too few.
std::vector<OrderItem> divided(const Case& c, const Need& need) {
  struct Stock {
    OrderItem all;
    double each;
  };
  std::vector<Stock> stocks;
  const auto& offers = candidate_of(c, need).offers;
  for (std::size_t i = 0; i < offers.size(); ++i) {
    if (!offers[i].stock || most_of(offers[i]) == 0) continue;
    const OrderItem all{need.part, need.candidate, static_cast<int>(i), most_of(offers[i])};
    if (const auto cost = landed_cost(c, {&all, 1})) stocks.push_back({all, cost->total / all.quantity});
  }
  std::stable_sort(stocks.begin(), stocks.end(),
                   [](const Stock& a, const Stock& b) { return a.each < b.each; });
  std::vector<OrderItem> taken, best;
  double least = 0;
  int missing = need.pieces;
  for (std::size_t first = 0; first < stocks.size() && missing > 0; ++first) {
    for (std::size_t last = first; last < stocks.size(); ++last) {
      const auto rest = least_allowed(offer_of(c, stocks[last].all), missing);
      if (!rest) continue;
      std::vector<OrderItem> items = taken;
      items.push_back(stocks[last].all);
      items.back().quantity = *rest;
      const auto cost = landed_cost(c, items);
      if (!cost || (!best.empty() && cost->total >= least)) continue;
      best = std::move(items);
      least = cost->total;
    }
    taken.push_back(stocks[first].all);
    missing -= stocks[first].all.quantity;
  }
  return best;
}

}  // namespace

std::optional<Order> cheapest_lot(const Case& c, std::span<const Need> needs, double day_cost) {
  const std::vector<Need> wanted = enlarged(c, {needs.begin(), needs.end()}, day_cost);
  if (auto order = cheapest_order(c, wanted, day_cost)) return order;
  Order order;
  for (const Need& need : needs) {
    const std::vector<Need> alone = enlarged(c, {need}, day_cost);
    auto found = cheapest_order(c, alone, day_cost);
    const std::vector<OrderItem> items = found ? found->items : divided(c, need);
    if (items.empty()) return std::nullopt;
    order.items.insert(order.items.end(), items.begin(), items.end());
  }
  const auto cost = landed_cost(c, order.items);
  if (!cost) return std::nullopt;
  order.cost = *cost;
  return order;
}

int pieces_of(const Order& order, int part) {
  int pieces = 0;
  for (const OrderItem& item : order.items) pieces += item.part == part ? item.quantity : 0;
  return pieces;
}

std::optional<int> most_to_be_had(const Candidate& candidate) {
  int pieces = 0;
  for (const Offer& offer : candidate.offers) {
    if (!offer.stock) return std::nullopt;
    pieces += most_of(offer);
  }
  return pieces;
}

Case with_parcels_alone(const Case& c) {
  Case alone = c;
  for (Supplier& supplier : alone.suppliers) supplier.other_goods = 0;
  return alone;
}

double usual_shortage_cost(const Case& c, int part) {
  const Case later = with_parcels_alone(c);
  const double day_cost = c.downtime.per_day.base();
  std::optional<double> least;
  const auto& candidates = c.parts[static_cast<std::size_t>(part)].candidates;
  for (int i = 0; i < static_cast<int>(candidates.size()); ++i) {
    const Need need{part, i, 1};
    const auto order = cheapest_lot(later, {&need, 1}, day_cost);
    if (!order) continue;
    const double cost = order->cost.total + order->cost.wait_days * day_cost;
    if (!least || cost < *least) least = cost;
  }
  return least.value_or(0.0);
}

double lead_days_of_one_repair(const Case& c, std::optional<int> pieces_per_job) {
  std::vector<Need> needs;
  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    int failed = 0;
    for (const PositionGroup& group : c.positions) failed += group.part == p ? group.failed : 0;
    if (failed > 0 && !c.parts[static_cast<std::size_t>(p)].candidates.empty())
      needs.push_back({p, 0, pieces_per_job.value_or(failed)});
  }
  const auto order = cheapest_lot(c, needs, c.downtime.per_day.base());
  return order ? order->cost.wait_days : 0.0;
}

const Lots::Lot* Lots::of_at_least(int pieces) {
  // The cheapest lot for fewer pieces that brings as many is the cheapest for these too.
  const auto next = known_.lower_bound(pieces);
  if (next != known_.end() && next->second.from <= pieces) return &next->second.lot;
  const Need need{part_, candidate_, pieces};
  auto order = cheapest_lot(c_, {&need, 1}, 0.0);
  if (!order) return nullptr;
  const int brought = pieces_of(*order, part_);
  const auto entry = known_.try_emplace(brought, Known{pieces, {brought, std::move(*order)}}).first;
  entry->second.from = std::min(entry->second.from, pieces);
  return &entry->second.lot;
}

}  // namespace mendworth
