#pragma once

#include <optional>
#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// Where wear hardly explains what has failed: the answer if it failed for a reason that tells nothing about the mates,
/// weighed over few of the same futures. Absent where wear explains it.
[[nodiscard]] std::optional<AnotherCause> another_cause_of(const Contest& contest,
                                                           const std::vector<PartEvidence>& evidence,
                                                           const RateBook& rates,
                                                           const WeighSettings& settings);

}  // namespace mendworth
