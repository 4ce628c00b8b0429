#pragma once

#include <span>

#include "mendworth/weigh.hpp"
#include "model/purchase.hpp"

namespace mendworth {

/// Describes an order as it should be placed now, beside goods for other jobs: lines, costs, the quantities worth a
/// look for each part (see ladder_of) with their landed totals (the rest of the order as it is), warnings (more pieces for less money, a top-up
/// that saves its shipping, a limit that stopped the search). `needed[i]` are the pieces of order.items[i]
/// used at the first visit. Sets leftovers, charged_whole and charged_pro_rata; the caller adds the
/// leftovers' value.
[[nodiscard]] OrderAnswer describe_order(const Case& c, const Order& order, std::span<const int> needed);

}  // namespace mendworth
