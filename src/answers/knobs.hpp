#pragma once

#include <functional>
#include <string>
#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// A number that can be turned to see what follows: an entry of the case, or one factor common to several.
struct Knob {
  std::string key;  ///< case key, or a name for a common factor
  std::string label;
  double current = 0;
  double low = 0, high = 0;    ///< the range that makes sense for a break-even
  bool states_current = true;  ///< turning it to its current value changes nothing
  std::function<void(Case&, Hypothesis&, double)> turn;
};

/// The numbers that a break-even is always looked for, as far as the case has them.
[[nodiscard]] std::vector<Knob> named_knobs(const Contest& contest, std::size_t best_repair,
                                            std::size_t best_replacement);

/// The knob of one entry of the case.
[[nodiscard]] Knob entry_knob(const Case& c, const std::string& key, const Quantity& value);

}  // namespace mendworth
