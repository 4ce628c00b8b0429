#pragma once

#include <string>

#include "mendworth/bulk.hpp"
#include "render/chart.hpp"

namespace mendworth {

[[nodiscard]] const char* words_of(Policy policy);

/// What nine of ten outcomes of the demand lie between, part by part.
[[nodiscard]] Chart demand_chart(const std::string& name, const BulkScenario& scenario);
/// By how many are bought once: what they cost delivered, and with what is missing or left in the end.
[[nodiscard]] Chart bulk_ladder_chart(const BulkAnswer& a, const std::string& name, const BulkLadder& ladder,
                                      const std::string& title);
/// What each policy costs, by what the money goes to.
[[nodiscard]] Chart policies_chart(const BulkAnswer& a, const std::string& name, const FleetPolicies& p);

}  // namespace mendworth
