#pragma once

#include <algorithm>
#include <cmath>

/// Comparisons with the tolerance in plain sight. Both are false for NaN.
namespace mendworth::test {

/// |a - b| <= tolerance
inline bool near_abs(double a, double b, double tolerance) { return std::abs(a - b) <= tolerance; }

/// |a - b| <= tolerance x the larger of |a| and |b|
inline bool near_rel(double a, double b, double tolerance) {
  return std::abs(a - b) <= tolerance * std::max(std::abs(a), std::abs(b));
}

}  // namespace mendworth::test
