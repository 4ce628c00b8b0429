#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

namespace mendworth {

/// A density on (0,1) that is linear between evenly spaced points, drawn by inversion: what is even in u stays even.
class LinearDensity {
 public:
  /// From its logarithms at the points, at least two, up to a constant; at least one must be finite.
  void take(std::span<const double> logs) {
    const double most = *std::max_element(logs.begin(), logs.end());
    at_.clear();
    below_.assign(1, 0.0);
    for (const double log : logs) {
      at_.push_back(std::exp(log - most));
      if (at_.size() > 1) below_.push_back(below_.back() + 0.5 * (at_[at_.size() - 2] + at_.back()));
    }
  }
  /// The place below which a share u in (0,1) lies.
  [[nodiscard]] double quantile(double u) const noexcept {
    const double wanted = u * below_.back();
    const auto above = std::upper_bound(below_.begin() + 1, below_.end() - 1, wanted);
    const auto cell = static_cast<std::size_t>(above - below_.begin()) - 1;
    // at * x + rise * x^2 / 2 = rest, solved so that a rise of nought is no special case.
    const double rest = wanted - below_[cell], rise = at_[cell + 1] - at_[cell];
    const double root = at_[cell] + std::sqrt(std::max(0.0, at_[cell] * at_[cell] + 2.0 * rise * rest));
    const double within = root > 0 ? std::min(1.0, 2.0 * rest / root) : 0.0;
    return (static_cast<double>(cell) + within) / static_cast<double>(at_.size() - 1);
  }

 private:
  std::vector<double> at_,
      below_;  ///< the density at the points; its integral up to them, in units of a cell
};

}  // namespace mendworth
