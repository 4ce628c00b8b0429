#include "model/order_book.hpp"

namespace mendworth {

OrderBook::OrderBook(const Case& c, const std::vector<int>& most) {
  const double day = c.downtime.per_day.base();
  small_orders_.assign(c.parts.size(), -1);
  reorders_.resize(c.parts.size());
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    for (std::size_t k = 0; k < c.parts[p].candidates.size(); ++k) {
      auto& kinds = reorders_[p].emplace_back();
      for (int n = 1; n <= most[p]; ++n) {
        const Need need{.part = static_cast<int>(p), .candidate = static_cast<int>(k), .pieces = n};
        auto order = cheapest_order(c, {&need, 1}, day, Parcel::alone);
        if (!order) {
          kinds.push_back(-1);
          continue;
        }
        kinds_.push_back({std::move(*order), false});
        kinds.push_back(size() - 1);
      }
      const int one = kinds.empty() ? -1 : kinds.front();
      int& least = small_orders_[p];
      if (one >= 0 && (least < 0 || order(one).cost.total < order(least).cost.total)) least = one;
    }
  }
}

int OrderBook::enter(Order order) {
  kinds_.push_back({std::move(order), true});
  return size() - 1;
}

int OrderBook::reorder(int part, int candidate, int pieces) const {
  const auto& kinds = reorders_[static_cast<std::size_t>(part)][static_cast<std::size_t>(candidate)];
  return static_cast<std::size_t>(pieces) <= kinds.size() ? kinds[static_cast<std::size_t>(pieces - 1)] : -1;
}

int OrderBook::pieces(int kind, int part, int candidate) const {
  int pieces = 0;
  for (const OrderItem& item : order(kind).items) {
    if (item.part == part && item.candidate == candidate) pieces += item.quantity;
  }
  return pieces;
}

std::optional<LandedCost> OrderBook::landed(const Case& c, int kind) const {
  return landed_cost(c, order(kind).items, at(kind).now ? Parcel::with_other_goods : Parcel::alone);
}

}  // namespace mendworth
