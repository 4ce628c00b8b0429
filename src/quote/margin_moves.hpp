#pragma once

#include <vector>

#include "quote/margin.hpp"

namespace mendworth {

/// What a job's margin depends on: one row for each uncertain number of the case and of the shop file that moves it,
/// and for some that are stated as certain, tried 20 % either way. The price stays as quoted, the purchase as planned.
/// Each row compares a few of the same futures with and without the change, so that their noise cancels; `margin` is
/// the mean over all. Widest first, at most `most` rows; rows that do not move a minor unit are left out.
[[nodiscard]] std::vector<MarginRow> margin_moves(const Case& c, const OrderBook& book, const JobPlan& plan,
                                                  const JobFuturesSettings& settings, const JobIncome& income,
                                                  const ShopCosts& costs, double margin, std::size_t most);

}  // namespace mendworth
