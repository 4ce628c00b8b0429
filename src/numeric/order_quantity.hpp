#pragma once

#include <span>
#include <vector>

/// How much to order at a time when a steady demand is met by equal orders (Harris's square root), and the same with
/// a price that falls with the quantity for all units. Sources of the formulas: Snyder and Shen, Fundamentals of
/// Supply Chain Theory, 2nd ed., sections 3.2 and 3.4.1. Demand in pieces a year, money in one currency; throws
/// std::domain_error out of range.
namespace mendworth {

/// sqrt(2 x order cost x demand / holding): order_cost >= 0, demand >= 0, holding > 0 a piece and year.
[[nodiscard]] double economic_order_quantity(double order_cost, double demand, double holding);

struct PriceStep {
  double from = 0;  ///< quantity from which the price holds, >= 0, rising
  double each = 0;  ///< > 0
};

/// What a year costs with orders of one size.
struct OrderSize {
  double quantity = 0;
  double each = 0;
  double ordering = 0;  ///< demand / quantity orders
  double holding = 0;   ///< of half an order on average, a share `rate` of its value
  double purchase = 0;
  [[nodiscard]] double total() const noexcept { return ordering + holding + purchase; }
};

/// Costs of a year with orders of `quantity` > 0 pieces that cost `goods` each time, with shipping: demand / quantity
/// x (order_cost + goods) + rate x goods / 2.
[[nodiscard]] OrderSize yearly_cost(double quantity, double goods, double order_cost, double demand,
                                    double rate);

/// For every step that can be used the best quantity within it, cheapest first: the economic quantity at its price,
/// brought between its break and the next. A step's quantity is at least 1 where `whole`, and then a whole number.
[[nodiscard]] std::vector<OrderSize> best_order_sizes(std::span<const PriceStep> steps, double order_cost,
                                                      double demand, double rate, bool whole);

}  // namespace mendworth
