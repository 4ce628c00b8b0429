#include "quote/shop_order.hpp"

#include <algorithm>

#include "model/pricing.hpp"

namespace mendworth {

std::vector<OrderRow> order_rows(const Case& c, const OrderBook& book, const JobPlan& plan,
                                 bool parts_from_customer) {
  std::vector<OrderRow> rows;
  if (parts_from_customer) return rows;
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    if (plan.pieces[p] == 0) continue;
    const Candidate& candidate =
        c.parts[p].candidates[static_cast<std::size_t>(plan.option.plan.supplies[p].candidate)];
    const int taken = std::min(candidate.on_hand, plan.pieces[p]);
    if (taken > 0) rows.push_back({.supplier = "", .item = candidate.name, .pieces = taken, .cost = 0});
  }
  if (plan.option.plan.first_order < 0) return rows;
  for (const OrderItem& item : book.order(plan.option.plan.first_order).items) {
    rows.push_back({.supplier = supplier_of(c, item).name,
                    .item = candidate_of(c, item).name,
                    .pieces = item.quantity,
                    .cost = piece_cost(c, item) * item.quantity});
  }
  return rows;
}

}  // namespace mendworth
