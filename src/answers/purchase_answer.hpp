#pragma once

#include "answers/contest.hpp"

namespace mendworth {

/// What the best repair plan orders, with the worth of its leftovers.
struct PurchaseAnswer {
  OrderAnswer order;
  double pieces_used = 0;  ///< leftovers expected to be used: own later failures, luck, other devices
};

[[nodiscard]] PurchaseAnswer purchase_answer(const Contest& contest, std::size_t repair,
                                             const WeighSettings& settings);

}  // namespace mendworth
