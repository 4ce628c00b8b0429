#include "answers/break_even.hpp"

#include "numeric/root.hpp"

namespace mendworth {
namespace {

// Re-pricing costs microseconds, a rerun milliseconds.
constexpr int price_points = 33, physical_points = 7;
constexpr int price_steps = 60, physical_steps = 6;
constexpr double price_width = 1e-9, physical_width = 1e-3;

}  // namespace

double saving_at(const WhatIf& what_if, const Case& c, const Knob& knob, double x) {
  Case changed = c;
  Hypothesis hypothesis;
  knob.turn(changed, hypothesis, x);
  return knob.physical ? what_if.rerun_saving(changed, hypothesis) : what_if.repriced_saving(changed);
}

BreakEven break_even_of(const WhatIf& what_if, const Case& c, const Knob& knob) {
  BreakEven found;
  found.key = knob.key;
  found.label = knob.label;
  found.current = knob.current;
  found.low = knob.low;
  found.high = knob.high;
  found.physical = knob.physical;
  if (!(knob.low < knob.high)) {
    found.saving_low = found.saving_high = what_if.saving();
    return found;
  }
  const auto crossings = find_crossings([&](double x) { return saving_at(what_if, c, knob, x); }, knob.low,
                                        knob.high, knob.physical ? physical_points : price_points,
                                        knob.physical ? physical_width : price_width,
                                        knob.physical ? physical_steps : price_steps);
  found.values = crossings.at;
  found.saving_low = crossings.value_low;
  found.saving_high = crossings.value_high;
  return found;
}

BreakEven leftovers_break_even(double without, double worth_each, double used, int leftovers) {
  BreakEven found;
  found.key = "common.leftovers_used";
  found.label = "pieces used from the leftovers";
  found.current = used;
  found.high = leftovers;
  found.saving_low = without;
  found.saving_high = without + worth_each * leftovers;
  if (worth_each > 0 && without < 0 && found.saving_high > 0) found.values.push_back(-without / worth_each);
  return found;
}

}  // namespace mendworth
