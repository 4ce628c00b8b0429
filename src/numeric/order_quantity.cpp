#include "numeric/order_quantity.hpp"

#include <stdexcept>

namespace mendworth {
namespace {

void require_order(bool holds, const char* what) {
  if (!holds) throw std::domain_error(what);
}

}  // namespace

OrderSize yearly_cost(double quantity, double goods, double order_cost, double demand, double rate) {
  require_order(quantity > 0, "an order must have a quantity above 0");
  require_order(goods >= 0 && order_cost >= 0 && demand >= 0 && rate >= 0,
                "costs and demand must be at least 0");
  const double orders = demand / quantity;
  return {.quantity = quantity,
          .each = goods / quantity,
          .ordering = orders * order_cost,
          .holding = rate * goods / 2,
          .purchase = orders * goods};
}

}  // namespace mendworth
