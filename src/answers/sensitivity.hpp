#pragma once

#include <vector>

#include "answers/knobs.hpp"
#include "answers/what_if.hpp"

namespace mendworth {

/// A knob with the two values that it is tried at.
struct Trial {
  Knob knob;
  double low = 0, high = 0;
  bool uncertain = false;  ///< the case itself knows only this range
};

/// One trial for each number that the case knows as a range only, and for each named one.
[[nodiscard]] std::vector<Trial> trials_of(const Case& c, const std::vector<Knob>& named);

/// `anew`: with what would be chosen at each of the two values; else of the courses known, a first look.
[[nodiscard]] SensitivityRow sensitivity_row(const WhatIf& what_if, const Case& c, const Trial& trial,
                                             bool anew);

}  // namespace mendworth
