#include "answers/sensitivity.hpp"

#include <algorithm>
#include <cmath>

#include "answers/break_even.hpp"

namespace mendworth {
namespace {

constexpr double assumed_part = 0.2;  // a number stated as certain is tried 20 % either way

}  // namespace

std::vector<Trial> trials_of(const Case& c, const std::vector<Knob>& named) {
  std::vector<Trial> trials;
  for_each_quantity(c, [&](const std::string& key, const Quantity& value) {
    if (value.is_fixed() || key.rfind("device.guarantee", 0) == 0) return;
    trials.push_back({entry_knob(c, key, value), value.low(), value.high(), true});
  });
  for (const auto& knob : named) {
    const bool known = std::any_of(trials.begin(), trials.end(),
                                   [&](const Trial& trial) { return trial.knob.key == knob.key; });
    if (known || knob.current == 0.0) continue;
    const double low = std::max(knob.low, knob.current * (1.0 - assumed_part));
    // A chance cannot be raised above one, nor any number above what makes sense.
    const double high = std::min(knob.high, knob.current * (1.0 + assumed_part));
    trials.push_back({knob, std::min(low, knob.current), std::max(high, knob.current), false});
  }
  return trials;
}

namespace {

SavingValue saving_at(const WhatIf& what_if, const Case& c, const Knob& knob, double x, bool anew) {
  if (x == knob.current && knob.states_current) return what_if.now();
  Case changed = c;
  Hypothesis hypothesis;
  knob.turn(changed, hypothesis, x);
  return what_if.saving(
      anew ? what_if.with_best_of(what_if.courses(), changed, hypothesis) : what_if.courses(), changed,
      hypothesis);
}

}  // namespace

SensitivityRow sensitivity_row(const WhatIf& what_if, const Case& c, const Trial& trial) {
  const Knob& knob = trial.knob;
  SensitivityRow row;
  row.key = knob.key;
  row.label = knob.label;
  row.low = trial.low;
  row.base = knob.current;
  row.high = trial.high;
  row.uncertain = trial.uncertain;
  row.from_default = std::any_of(c.defaults.begin(), c.defaults.end(),
                                 [&](const DefaultUse& d) { return d.key == knob.key; });
  set_ends(row, what_if.now(), saving_at(what_if, c, knob, trial.low, false),
           saving_at(what_if, c, knob, trial.high, false));
  return row;
}

SavingValue saving_anew(const WhatIf& what_if, const Case& c, const Knob& knob, double x) {
  return saving_at(what_if, c, knob, x, true);
}

void set_ends(SensitivityRow& row, const SavingValue& now, const SavingValue& low, const SavingValue& high) {
  row.saving_low = low.saving;
  row.saving_high = high.saving;
  row.low_error = low.error;
  row.high_error = high.error;
  row.swing = std::abs(row.saving_high - row.saving_low);
  const bool repair = now.saving > 0;
  row.turns = (row.saving_low > 0) != repair || (row.saving_high > 0) != repair;
}

}  // namespace mendworth
