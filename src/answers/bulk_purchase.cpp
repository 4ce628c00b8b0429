#include "answers/bulk_purchase.hpp"

#include <algorithm>
#include <vector>

namespace mendworth {
namespace {

/// All that an offer has in stock and would sell.
int most_of(const Offer& offer) {
  const int packs = *offer.stock / offer.multiple * offer.multiple;
  return packs >= std::max(offer.least, 1) ? packs : 0;
}

}  // namespace

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

double usual_shortage_cost(const Case& c, int part) {
  const double day_cost = c.downtime.per_day.base();
  std::optional<double> least;
  const auto& candidates = c.parts[static_cast<std::size_t>(part)].candidates;
  for (int i = 0; i < static_cast<int>(candidates.size()); ++i) {
    const Need need{part, i, 1};
    const auto order = cheapest_order(c, {&need, 1}, day_cost, Parcel::alone);
    if (!order) continue;
    const double cost = order->cost.total + order->cost.wait_days * day_cost;
    if (!least || cost < *least) least = cost;
  }
  return least.value_or(0.0) + (c.bulk ? c.bulk->order_cost : 0.0);
}

double lead_days_of_one_repair(const Case& c, std::optional<int> pieces_per_job) {
  std::vector<Need> needs;
  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    int failed = 0;
    for (const PositionGroup& group : c.positions) failed += group.part == p ? group.failed : 0;
    if (failed > 0 && !c.parts[static_cast<std::size_t>(p)].candidates.empty())
      needs.push_back({p, 0, pieces_per_job.value_or(failed)});
  }
  const auto order = cheapest_order(c, needs, c.downtime.per_day.base(), Parcel::with_other_goods);
  return order ? order->cost.wait_days : 0.0;
}

const Lots::Lot* Lots::of_at_least(int pieces) {
  // The cheapest lot for fewer pieces that brings as many is the cheapest for these too.
  const auto next = known_.lower_bound(pieces);
  if (next != known_.end() && next->second.from <= pieces) return &next->second.lot;
  const Need need{part_, candidate_, pieces};
  auto order = cheapest_order(c_, {&need, 1}, day_cost_, parcel_);
  if (!order) return nullptr;
  const int brought = pieces_of(*order, part_);
  const auto entry = known_.try_emplace(brought, Known{pieces, {brought, std::move(*order)}}).first;
  entry->second.from = std::min(entry->second.from, pieces);
  return &entry->second.lot;
}

}  // namespace mendworth
