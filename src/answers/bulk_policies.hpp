#pragma once

#include <cstdint>

#include "answers/bulk_fleet.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"

namespace mendworth {

/// What the three ways to look after a fleet cost over `years`, and at which Weibull shape the cheapest one changes.
///
/// Every device's failures are played through: an original fails by the fleet's law, a new piece by that of the part's
/// first candidate, again and again until the end. Failed devices are opened now under every policy. An opening
/// brings its minutes, consumables, the risk of damage, and unless it is planned the days on the bench; each piece
/// its minutes (Wright's curve over the whole fleet), its joints' risk and its price. Money is discounted; the pieces
/// expected to be used are bought now in one order. The same luck serves every policy and every shape.
[[nodiscard]] FleetPolicies policies_of(const Case& c, const FleetSize& size, double years, int futures,
                                        std::uint64_t seed);

}  // namespace mendworth
