#pragma once

#include <cstdint>
#include <vector>

#include "model/items.hpp"
#include "model/order_book.hpp"

namespace mendworth {

/// Unit cost of every item at the base of the case's ranges. Orders are those of the book, at the prices of `c`; one
/// that its supplier would refuse at these prices keeps the cost of the book.
[[nodiscard]] std::vector<UnitCost> unit_costs(const Case& c, const Items& items, const OrderBook& book);

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
    const auto slot = static_cast<std::size_t>(item);
    if (late_[slot] != 0 && priced_in_[slot] != round_) price_late(item);
    return unit_[slot];
  }
  /// Of the same mean over futures, with less spread: what is no order at its mean, which is that at the base of the
  /// ranges, as each unit cost is linear in every one of them and they are independent of what happens. Orders, which
  /// have steps, as in this future.
  [[nodiscard]] const UnitCost& steady(int item) {
    const auto slot = static_cast<std::size_t>(item);
    return late_[slot] != 0 ? at(item) : base_[slot];
  }

 private:
  void price_late(int item);

  const Items* items_;
  const OrderBook* book_;
  const Case* case_ = nullptr;
  std::vector<UnitCost> unit_, base_;
  std::vector<char> late_;                ///< orders, and what depends on them
  std::vector<std::uint64_t> priced_in_;  ///< round in which a late item was priced
  std::uint64_t round_ = 0;
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
