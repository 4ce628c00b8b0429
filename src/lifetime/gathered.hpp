#pragma once

#include "lifetime/observations.hpp"

namespace mendworth::lifetime {

/// Many different ages as few, for what needs no more than some six digits: within a cell that is narrow in
/// ln H under a law of this shape, two places of equal weight keep the pieces, their mean and their variance.
/// What a smooth term of a likelihood loses is of third order in the width of a cell. Intervals, and few
/// ages, stay as they are.
[[nodiscard]] Observations gathered(const Observations& observations, double shape);

}  // namespace mendworth::lifetime
