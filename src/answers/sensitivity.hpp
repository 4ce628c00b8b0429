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

/// A first look: what the courses known would save at the two values.
[[nodiscard]] SensitivityRow sensitivity_row(const WhatIf& what_if, const Case& c, const Trial& trial);
/// What is saved at one of the two values with what would be chosen there.
[[nodiscard]] SavingValue saving_anew(const WhatIf& what_if, const Case& c, const Knob& knob, double x);
void set_ends(SensitivityRow& row, const SavingValue& now, const SavingValue& low, const SavingValue& high);

}  // namespace mendworth
