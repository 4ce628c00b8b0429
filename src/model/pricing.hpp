#pragma once

#include <cstdint>
#include <vector>

#include "model/items.hpp"
#include "model/order_book.hpp"

namespace mendworth {

/// How an order of the book is priced.
enum class Suppliers {
  as_chosen,    ///< from the suppliers chosen at the base prices
  best_at_hand  ///< chosen anew for the prices of the case at hand
};

/// Unit cost of every item but the orders, at the base of the case's ranges. `unit` is resized.
void price_items(const Case& c, const ItemLayout& layout, std::vector<UnitCost>& unit);

/// Unit cost of every order of the book, and of spares used elsewhere, at the prices of `c`; call after price_items.
/// An order that its supplier would refuse at these prices keeps the cost of the book.
void price_orders(const Case& c, const ItemLayout& layout, const OrderBook& book, Suppliers suppliers,
                  std::vector<UnitCost>& unit);

/// Unit costs of one future. Orders are priced when first asked for: of the many kinds that some plan may place, a
/// future places few.
class PriceList {
 public:
  /// `book` must outlive this.
  PriceList(const ItemLayout& layout, const OrderBook& book);

  /// Takes the prices of `c`, which must stay as it is until the next call. `orders` false: prices that orders
  /// depend on have not changed.
  void take(const Case& c, bool orders);
  [[nodiscard]] const UnitCost& at(int item) {
    const auto slot = static_cast<std::size_t>(item);
    if (priced_in_[slot] != round_) price_late(item);
    return unit_[slot];
  }

 private:
  void price_late(int item);

  ItemLayout layout_;
  const OrderBook* book_;
  const Case* case_ = nullptr;
  std::vector<UnitCost> unit_;
  std::vector<std::uint64_t> priced_in_;  ///< round in which the item was priced; orders only when asked for
  std::uint64_t round_ = 0;
  std::vector<int> late_items_;  ///< orders and spares used elsewhere
  struct Kept {
    int item;
    UnitCost cost;
  };
  std::vector<Kept> kept_;  ///< scratch of take
};

/// Hands-on minutes of the first visit if all goes well: case, opening and positions, with learning.
[[nodiscard]] double first_visit_minutes(const Case& c, const std::vector<int>& groups_of_renewed);

/// Price of a replacement with shipping and tax; the price counts as 0 where it is not known.
[[nodiscard]] double purchase_price(const Replacement& r);

}  // namespace mendworth
