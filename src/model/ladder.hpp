#pragma once

#include <span>
#include <vector>

#include "model/purchase.hpp"

namespace mendworth {

/// One quantity of one line of an order, the other lines as they are.
struct LadderStep {
  OrderItem item;
  LandedCost cost;   ///< of the whole order
  double share = 0;  ///< the line's own landed cost, with its share by value of its parcel's costs
};

/// Quantities of a line that are worth a look, `need` pieces being used: the ordered one, each step from the need on
/// until three pieces more, each price break beyond the need, and every larger quantity with which the order costs less
/// (as it is printed) than with all smaller ones or, beyond the ordered quantity, than with all from that on. Each from
/// the offer that does it best, waiting counted, the ordered one as it is ordered. Rising by quantity.
[[nodiscard]] std::vector<LadderStep> ladder_of(const Case& c, std::span<const OrderItem> items,
                                                std::size_t line, int need, Parcel parcel);

/// Whether a sum in the case's currency is less than another one by at least what is printed.
[[nodiscard]] bool visibly_less(const Case& c, double a, double b);

}  // namespace mendworth
