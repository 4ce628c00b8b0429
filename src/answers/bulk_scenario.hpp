#pragma once

#include <cstddef>

#include "answers/bulk_wants.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"

namespace mendworth {

/// All of one demand but where its purchases turn. Throws InputError if a quotation does not go with the case.
[[nodiscard]] BulkScenario scenario_of(const Case& c, const BulkSettings& settings, const Wants& wants,
                                       bool policies);

/// The demand for one part alone, its ladders and what to do about it.
[[nodiscard]] BulkScenario purchases_of(const Case& c, const BulkSettings& settings, const Wants& wants,
                                        std::size_t part);

}  // namespace mendworth
