#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

namespace mendworth {

/// A density on (0,1) that is linear between evenly spaced points, drawn by inversion: what is even in u stays even.
class LinearDensity {
 public:
  LinearDensity() = default;
  /// From its logarithms at the points, at least two, up to a constant; at least one must be finite.
  explicit LinearDensity(std::span<const double> logs) : below_{0.0} {
    at_.reserve(logs.size());
    below_.reserve(logs.size());
    const double most = *std::max_element(logs.begin(), logs.end());
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

/// Such a density for each value of a condition, known at evenly spaced ones; quantiles between them are interpolated.
class ConditionalDensity {
 public:
  ConditionalDensity() = default;
  /// At `low`, `low + step` ...; one density holds for every value.
  ConditionalDensity(double low, double step, std::vector<LinearDensity> at)
      : low_(low), step_(step), at_(std::move(at)) {}
  [[nodiscard]] double quantile(double given, double u) const noexcept {
    if (at_.size() == 1) return at_.front().quantile(u);
    const double place = std::clamp((given - low_) / step_, 0.0, static_cast<double>(at_.size() - 1));
    const auto below = std::min(static_cast<std::size_t>(place), at_.size() - 2);
    return std::lerp(at_[below].quantile(u), at_[below + 1].quantile(u), place - static_cast<double>(below));
  }

 private:
  double low_ = 0, step_ = 0;
  std::vector<LinearDensity> at_;
};

}  // namespace mendworth
