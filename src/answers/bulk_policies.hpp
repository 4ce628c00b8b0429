#pragma once

#include <cstdint>

#include "answers/bulk_fleet.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"

namespace mendworth {

/// What the three ways to look after a fleet cost over `years`, and at which Weibull shape the cheapest one changes.
///
/// Every device's failures are played through as those of one device are (Future): an original fails by the fleet's law, a
/// new piece by that of the part's first candidate, again and again until the end. Failed devices are opened now under every policy, and wait for the
/// pieces. An opening brings its minutes, consumables, the risk of damage, and unless it is planned the days on the
/// bench; each piece its minutes, its joints' risk and its price. Openings and positions of the whole fleet each follow
/// Wright's curve; the minutes of the case stand once. Money is discounted; the pieces expected to be used are bought
/// now in one order. The same luck serves every policy and every shape: table and turns tell of the same futures.
[[nodiscard]] FleetPolicies policies_of(const Case& c, const FleetSize& size, double years, int futures,
                                        std::uint64_t seed);

}  // namespace mendworth
