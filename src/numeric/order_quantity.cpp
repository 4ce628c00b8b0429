#include "numeric/order_quantity.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace mendworth {
namespace {

void require_order(bool holds, const char* what) {
  if (!holds) throw std::domain_error(what);
}

}  // namespace

double economic_order_quantity(double order_cost, double demand, double holding) {
  require_order(order_cost >= 0 && demand >= 0, "order cost and demand must be at least 0");
  require_order(holding > 0 && std::isfinite(holding), "the cost of holding must be above 0");
  return std::sqrt(2 * order_cost * demand / holding);
}

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

std::vector<OrderSize> best_order_sizes(std::span<const PriceStep> steps, double order_cost, double demand,
                                        double rate, bool whole) {
  require_order(rate > 0, "the rate of holding must be above 0");
  std::vector<OrderSize> sizes;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    require_order(steps[i].from >= 0 && steps[i].each > 0,
                  "a price step must be at 0 or more, its price above 0");
    const double next = i + 1 < steps.size() ? steps[i + 1].from : std::numeric_limits<double>::infinity();
    require_order(next > steps[i].from, "price steps must rise");
    const double plain = economic_order_quantity(order_cost, demand, rate * steps[i].each);
    if (plain >= next) continue;  // the next step's price would hold
    const auto add = [&](double quantity) {
      if (quantity > 0 && quantity < next && quantity >= steps[i].from)
        sizes.push_back(yearly_cost(quantity, quantity * steps[i].each, order_cost, demand, rate));
    };
    if (!whole) {
      add(std::max(plain, steps[i].from));
      continue;
    }
    // The cost is convex between breaks: one of the whole numbers beside the least is best.
    const double least = std::max(1.0, std::ceil(steps[i].from));
    const double below = std::max(least, std::floor(plain));
    add(below);
    add(std::max(least, std::ceil(plain)));
    if (sizes.size() >= 2) {
      auto& last = sizes[sizes.size() - 1];
      auto& before = sizes[sizes.size() - 2];
      if (before.quantity >= steps[i].from) {
        if (last.total() < before.total()) before = last;
        sizes.pop_back();
      }
    }
  }
  std::stable_sort(sizes.begin(), sizes.end(),
                   [](const OrderSize& a, const OrderSize& b) { return a.total() < b.total(); });
  return sizes;
}

}  // namespace mendworth
