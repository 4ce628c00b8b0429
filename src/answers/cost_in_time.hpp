#pragma once

#include "answers/money_in_time.hpp"

namespace mendworth {

/// The course of cost of a repair and of a replacement with its spread over at most 2,048 futures, at 49 times over
/// `means`, which are the expected sums. Prices stay at their base, as in `means`. Both must be options of the contest
/// that may be followed by its best chain. Each device bought later lives as long as in the other course, the first of
/// them as the first there.
[[nodiscard]] CostInTime cost_in_time(const Contest& contest, std::size_t repair, std::size_t replacement,
                                      const MoneyInTime& means, const WeighSettings& settings);

}  // namespace mendworth
