#pragma once

#include "answers/bulk_wants.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"

namespace mendworth {

/// The purchase that is chosen, which must be of this scenario.
[[nodiscard]] BulkBest best_of(const BulkScenario& scenario, const BulkChoice& choice);

/// Fills in where the purchases of a scenario turn, each found and checked by asking for them anew with the value put in.
void add_turns(BulkScenario& scenario, const Case& c, const BulkSettings& settings, const Wants& wants);

}  // namespace mendworth
