#pragma once

#include <functional>
#include <span>
#include <vector>

#include "mendworth/weigh.hpp"
#include "model/purchase.hpp"

namespace mendworth {

/// Describes an order as it should be placed now, beside goods for other jobs: lines, costs, the quantities worth a
/// look for each part (see ladder_of) with their landed totals (the rest of the order as it is), warnings (more pieces for less money, a top-up
/// that saves its shipping, a limit that stopped the search). `needed[i]` are the pieces of order.items[i]
/// used at the first visit. Sets leftovers, charged_whole and charged_pro_rata; the caller adds the
/// leftovers' value.
[[nodiscard]] OrderAnswer describe_order(const Case& c, const Order& order, std::span<const int> needed);

/// Pieces of each line for the first visit, if it is their candidate that fits: those of a hedge too. `lacking` says how
/// many of a candidate the visit lacks; a second line of the same candidate brings what the first one leaves.
[[nodiscard]] std::vector<int> pieces_needed(const std::vector<OrderItem>& items,
                                             const std::function<int(int part, int candidate)>& lacking);

}  // namespace mendworth
