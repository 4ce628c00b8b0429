#pragma once

#include <vector>

#include "model/purchase.hpp"

/// Second candidates that a first order may bring, for the case that the first does not fit.
namespace mendworth {

/// What a first order brings of each part that is renewed now; 0 pieces where the drawer has enough.
using Variant = std::vector<Need>;

/// Pieces of a need that are not at hand.
[[nodiscard]] int missing(const Case& c, const Need& need);

/// The hedges worth trying beside a choice of candidates, whose parts need `pieces` now: each other candidate of each
/// part whose first may not fit, and the nearest others of all such parts together. Left out is what cannot pay: goods
/// that cost more than the chance of a misfit times the order that they would save.
[[nodiscard]] std::vector<Variant> hedges_of(const Case& c, const Variant& choice,
                                             const std::vector<int>& pieces);

}  // namespace mendworth
