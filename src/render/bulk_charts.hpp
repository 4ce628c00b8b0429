#pragma once

#include <string>
#include <vector>

#include "mendworth/bulk.hpp"
#include "render/chart.hpp"

namespace mendworth {

[[nodiscard]] const char* words_of(Policy policy);

/// What nine of ten outcomes of the demand lie between, part by part.
[[nodiscard]] Chart demand_chart(const std::string& name, const BulkScenario& scenario);
/// By how many are bought once: what they cost delivered, and with what is missing or left in the end.
[[nodiscard]] Chart bulk_ladder_chart(const BulkAnswer& a, const std::string& name, const BulkLadder& ladder,
                                      const std::string& title);
/// What a piece that is used costs from each offer, by how many are bought once, and what nine of ten outcomes of the
/// need lie between.
[[nodiscard]] Chart offers_chart(const BulkAnswer& a, const std::string& name, const PartDemand& demand,
                                 const std::vector<const BulkOffer*>& offers);
/// What each policy costs, by what the money goes to.
[[nodiscard]] Chart policies_chart(const BulkAnswer& a, const std::string& name, const FleetPolicies& p);

}  // namespace mendworth
