#pragma once

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

/// Hands-on minutes of the first visit if all goes well: case, opening and positions, with learning.
[[nodiscard]] double first_visit_minutes(const Case& c, const std::vector<int>& groups_of_renewed);

/// Price of a replacement with shipping and tax; the price counts as 0 where it is not known.
[[nodiscard]] double purchase_price(const Replacement& r);

}  // namespace mendworth
