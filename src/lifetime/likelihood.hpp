#pragma once

#include "lifetime/hazard_sums.hpp"
#include "lifetime/observations.hpp"

namespace mendworth::lifetime {

/// A log-likelihood with its derivatives in (level, shape).
struct Evaluation {
  double value = 0;  ///< of the ages in their own unit; -infinity where arithmetic overflows
  double d_level = 0, d_shape = 0;
  double d_level_level = 0, d_level_shape = 0, d_shape_shape = 0;
};

/// The Weibull log-likelihood. With x = ln(age) - centre, the law is H(x) = exp(level + shape x), so
/// level = shape (centre - ln(scale)). In these two it is concave, unless pieces came under watch late:
/// densities and survivals are log-concave in x, hence so are the chances of intervals (Prekopa), and x
/// enters linearly.
class WeibullLikelihood {
 public:
  explicit WeibullLikelihood(const Observations& observations);

  /// shape > 0; 0 is allowed if no failure is exact and no interval has a lower end.
  [[nodiscard]] Evaluation at(double level, double shape) const;
  /// The level of the greatest likelihood at this shape, by Newton's method from `guess`.
  [[nodiscard]] double best_level(double shape, double guess) const;

  [[nodiscard]] const Observations& observations() const noexcept { return *observations_; }

 private:
  void add_intervals(double level, double shape, Evaluation& to) const;

  const Observations* observations_;
  HazardSums hazards_;  // of failures and survivors together
};

}  // namespace mendworth::lifetime
