#pragma once

#include "answers/contest.hpp"
#include "mendworth/knowing.hpp"

namespace mendworth {

/// What the uncertain numbers bring to the variance of the saving between these two options, and what knowing them is
/// worth to the choice among all options of the contest, which must have drawn prices.
[[nodiscard]] Knowing knowing_of(const Contest& contest, std::size_t repair, std::size_t replacement,
                                 const WeighSettings& settings);

}  // namespace mendworth
