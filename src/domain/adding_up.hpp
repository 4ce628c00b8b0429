#pragma once

#include <vector>

#include "mendworth/money.hpp"

namespace mendworth {

/// Expected sums as whole minor units that add up to a total which was rounded for itself. Each is rounded; what is
/// missing then goes, a minor unit each, to those whose rounding took most (the method of largest remainders), so
/// that none is off by more than one minor unit.
/// Throws std::invalid_argument if the total is further from the sum than that can settle, and like `rounded`.
[[nodiscard]] std::vector<Money> adding_up(const std::vector<double>& expected, Money total,
                                           const Currency& currency);

}  // namespace mendworth
