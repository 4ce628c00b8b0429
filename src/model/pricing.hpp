#pragma once

#include <cmath>
#include <vector>

#include "model/items.hpp"
#include "model/order_book.hpp"

namespace mendworth {

/// Unit cost of every item at the base of the case's ranges. Orders are those of the book, at the prices of `c`; one
/// that its supplier would refuse at these prices keeps the cost of the book.
[[nodiscard]] std::vector<UnitCost> unit_costs(const Case& c, const Items& items, const OrderBook& book);

[[nodiscard]] std::vector<double> totals(const std::vector<UnitCost>& unit);

/// Unit costs of one future. Orders are priced when first asked for: of the many kinds that some plan may place, a
/// future places few.
class PriceList {
 public:
  /// `c` with all ranges; its items and orders must outlive this.
  PriceList(const Case& c, const Items& items, const OrderBook& book);

  /// Takes the prices of `c`, which must stay as it is until the next call. `orders` false: prices that orders
  /// depend on have not changed.
  void take(const Case& c, bool orders);
  [[nodiscard]] const UnitCost& at(int item) {
    know(item);
    return unit_[static_cast<std::size_t>(item)];
  }
  [[nodiscard]] double total(int item) {
    know(item);
    return totals_[static_cast<std::size_t>(item)];
  }
  /// Of the same mean over futures, with less spread: what is no order at its mean, which is that at the base of the
  /// ranges, as each unit cost is linear in every one of them and they are independent of what happens. Orders, which
  /// have steps, as in this future.
  [[nodiscard]] const UnitCost& steady(int item) {
    return is_late(item) ? at(item) : base_[static_cast<std::size_t>(item)];
  }
  [[nodiscard]] double steady_total(int item) {
    return is_late(item) ? total(item) : base_totals_[static_cast<std::size_t>(item)];
  }

 private:
  [[nodiscard]] bool is_late(int item) const { return late_[static_cast<std::size_t>(item)] != 0; }
  void know(int item) {
    if (std::isnan(totals_[static_cast<std::size_t>(item)])) price_late(item);
  }
  void price_late(int item);

  const Items* items_;
  const OrderBook* book_;
  const Case* case_ = nullptr;
  std::vector<UnitCost> unit_, base_;
  std::vector<double> totals_;  ///< not a number: a late item that nobody asked for yet
  std::vector<double> base_totals_;
  std::vector<char> late_;  ///< orders, and what depends on them
};

/// Hands-on minutes of the first visit if all goes well: case, opening and positions, with learning.
[[nodiscard]] double first_visit_minutes(const Case& c, const std::vector<int>& groups_of_renewed);

/// What a replacement costs when it is bought: price with shipping and tax (the price counts as 0 where it is not
/// known), setting it up, waiting for it.
[[nodiscard]] UnitCost device_cost(const Case& c, const Replacement& r);
/// What each unit of its price comes to in the case's currency, with the tax on it.
[[nodiscard]] double paid_per_price(const Replacement& r);
/// Its money alone.
[[nodiscard]] double purchase_price(const Replacement& r);

}  // namespace mendworth
