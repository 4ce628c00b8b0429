#pragma once

#include "answers/knobs.hpp"
#include "answers/what_if.hpp"

namespace mendworth {

/// Where the expected saving is zero as the knob turns through its range: looked for roughly, then mended near each zero
/// until a weighing of the case with that value finds a saving of nought within its error. Where the saving jumps across
/// zero, the value of the jump.
[[nodiscard]] BreakEven break_even_of(const WhatIf& what_if, const Case& c, const Knob& knob);

/// What the leftovers must be good for: pieces used at which the saving is zero. `without` is the saving if none is
/// used, `worth_each` what a used piece saves, `used` the pieces expected to be used, `leftovers` how many there are.
[[nodiscard]] BreakEven leftovers_break_even(double without, double worth_each, double used, int leftovers);

}  // namespace mendworth
