#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// What the device's own parts tell about their lives, one entry for each part with evidence.
[[nodiscard]] std::vector<PartEvidence> part_evidence(const Contest& contest, ModelCache& cache);

/// Every surviving original by group: its chance to fail, and what renewing it now costs against later.
[[nodiscard]] std::vector<SurvivorRow> survivor_rows(const Contest& contest, ModelCache& cache);

}  // namespace mendworth
