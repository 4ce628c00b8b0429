#include "numeric/mean_error.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace mendworth {

MeanError mean_of(const RandomisedSums& sums, int futures) {
  MeanError result;
  if (futures < 1) return result;
  for (const double sum : sums) result.mean += sum / futures;
  const int groups = std::min(futures, randomisations);
  if (groups < 2) return result;
  double squares = 0;
  for (int r = 0; r < groups; ++r) {
    const int count = (futures - r + randomisations - 1) / randomisations;
    const double off = (sums[static_cast<std::size_t>(r)] - count * result.mean) / futures;
    squares += off * off;
  }
  result.error = std::sqrt(squares * groups / (groups - 1));
  return result;
}

MeanError mean_of(std::span<const double> values) {
  RandomisedSums sums{};
  for (std::size_t f = 0; f < values.size(); ++f) sums[f % randomisations] += values[f];
  return mean_of(sums, static_cast<int>(values.size()));
}

MeanError mean_difference(std::span<const double> a, std::span<const double> b) {
  RandomisedSums sums{};
  for (std::size_t f = 0; f < a.size(); ++f) sums[f % randomisations] += a[f] - b[f];
  return mean_of(sums, static_cast<int>(a.size()));
}

}  // namespace mendworth
