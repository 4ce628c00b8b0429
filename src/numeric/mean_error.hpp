#pragma once

#include <array>
#include <span>

#include "numeric/random.hpp"

namespace mendworth {

/// Sums over futures, apart for each randomisation of their points.
using RandomisedSums = std::array<double, randomisations>;

/// A mean over futures and its standard error.
struct MeanError {
  double mean = 0, error = 0;
};

/// values[f] belongs to future f. Points of one randomisation are not independent, randomisations are: the error is that
/// of the mean of their means, 0 for fewer than two values. Source: A. B. Owen, "Monte Carlo variance of scrambled net
/// quadrature", SIAM J. Numer. Anal. 34 (1997), section 1.
[[nodiscard]] MeanError mean_of(std::span<const double> values);
/// The same from sums over futures 0 .. `futures` - 1.
[[nodiscard]] MeanError mean_of(const RandomisedSums& sums, int futures);
/// The mean of a[f] - b[f].
[[nodiscard]] MeanError mean_difference(std::span<const double> a, std::span<const double> b);

}  // namespace mendworth
