#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// Expected cost of each option gathered up to each of the times step, 2 step .., over as long as is worth looking at;
/// devices bought again and again included.
struct MoneyInTime {
  double step = 0;                         ///< years
  std::vector<std::vector<double>> cost;   ///< [option][bin]: present cost so far
  std::vector<std::vector<double>> money;  ///< [option][bin]: money paid so far, not discounted

  /// Money paid within so many years.
  [[nodiscard]] double money_within(std::size_t option, double years) const;
};

[[nodiscard]] MoneyInTime money_in_time(const Contest& contest, const WeighSettings& settings);

}  // namespace mendworth
