#pragma once

/// What a steady demand costs that is met by equal orders. Source: Snyder and Shen, Fundamentals of Supply Chain Theory,
/// 2nd ed., section 3.2. Demand in pieces a year, money in one currency; throws std::domain_error out of range.
namespace mendworth {

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

}  // namespace mendworth
