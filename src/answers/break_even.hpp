#pragma once

#include <vector>

#include "answers/knobs.hpp"
#include "answers/what_if.hpp"

namespace mendworth {

/// The expected saving with a knob at x.
[[nodiscard]] double saving_at(const WhatIf& what_if, const Case& c, const Knob& knob, double x);

/// Where the expected saving is zero as the knob turns through its range.
[[nodiscard]] BreakEven break_even_of(const WhatIf& what_if, const Case& c, const Knob& knob);

/// What the leftovers must be good for: pieces used at which the saving is zero. `without` is the saving if none is
/// used, `worth_each` what a used piece saves, `used` the pieces expected to be used, `leftovers` how many there are.
[[nodiscard]] BreakEven leftovers_break_even(double without, double worth_each, double used, int leftovers);

}  // namespace mendworth
