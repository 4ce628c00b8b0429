#pragma once

#include <vector>

#include "mendworth/case.hpp"
#include "numeric/inverse_table.hpp"

/// What this device's own parts tell about their life.
///
/// Wear is counted relative to a reference wear w (that of the busiest position so far, in the unit of the
/// part's life): ratio = wear / w. Then everything depends on the single number z = ln(rated life / w), and
/// y = ln(scale / w) is what is not known. Prior: y given shape ~ normal with mean
/// z - ln(-ln(1 - failed_at_rated))/shape and deviation ln(life_spread); shape lognormal about its base with
/// deviation ln(shape_spread), or by the quantiles of its range when shape_spread is 1, or fixed.
/// Evidence: failed at ratio q by wear: density; working at ratio q: survival; either divided by the survival to
/// where it came under watch.
namespace mendworth {

struct WearEvidence {
  double ratio = 1;     ///< wear over the reference wear, > 0
  bool failed = false;  ///< by wear; false: still works at that wear
  int count = 1;        ///< >= 1
  /// Wear at which it came under watch, working: 0 .. less than `ratio`. Had it failed before, it would not be here
  /// (left truncation).
  double watched_from = 0;
};

/// A Weibull law relative to the reference wear.
struct LifeDraw {
  double shape = 1;
  double log_scale = 0;  ///< y = ln(scale / w)
};

class LifePosterior {
 public:
  /// z may later take any value in [z_low, z_high] (equal: known exactly). Quadrature over about 17 shapes (1
  /// if fixed) and, for each, 64 or more cells of y laid where the posterior's mass is, so extreme evidence
  /// far in the prior's tail is no harder than none. Draws are tabulated at up to 17 values of z; the other
  /// answers are integrated anew at the z asked for. Throws std::domain_error where prior, evidence or z are
  /// out of range.
  LifePosterior(const LifePrior& prior, const std::vector<WearEvidence>& evidence, double z_low,
                double z_high);

  /// A draw at z (brought into the range given) by inversion, from two uniforms in (0,1). Continuous in y
  /// (linear density within a cell) and in z (weights and quantiles interpolated between neighbouring z); the
  /// shape is one of the quadrature's: averages over draws are within 1e-3 of the chance below for z known
  /// within a factor of 12. About 25 ns at one z, 50 ns in a range.
  [[nodiscard]] LifeDraw draw(double z, double u_shape, double u_scale) const noexcept;
  /// Chance that an item worn to `ratio` >= 0 fails before `ratio + further`, over the posterior at z.
  [[nodiscard]] double failure_chance(double z, double ratio, double further) const;
  /// Chance over the posterior at z that at least as many of these items as are marked failed do fail by their wear,
  /// each having worked when it came under watch. They share one scale and shape, as mates do.
  [[nodiscard]] double as_many_failures_chance(double z, const std::vector<WearEvidence>& items) const;
  /// Quantile u, 0 < u < 1, of the median life relative to w over the posterior at z.
  [[nodiscard]] double median_life_quantile(double z, double u) const;
  /// ln of the evidence's marginal likelihood at z, up to a constant that does not depend on z.
  [[nodiscard]] double log_marginal(double z) const;

 private:
  // A value of the shape, with all that the likelihood needs to know about the evidence under it.
  struct Shape {
    double value = 1;
    double log_prior = 0;   // ln of its prior weight
    double prior_drop = 0;  // the prior mean of y is z minus this
    double log_wear = 0;    // ln sum(count (ratio^shape - watched_from^shape)) over the evidence
    double log_front = 0;   // the part of the log-likelihood that does not depend on y
  };

  // What is thought about y at one z and shape, at nodes first + i step that cover the posterior's mass.
  struct Profile {
    double first = 0;
    double step = 0;
    std::vector<double> weight;  // likelihood times prior density, 1 at the mode; one node if y is known
    std::vector<double> slope;   // of ln weight
    double log_mass = 0;         // ln of shape's prior times likelihood, integrated over y
  };

  [[nodiscard]] Shape shape_of(double value, double log_prior,
                               const std::vector<WearEvidence>& evidence) const;
  [[nodiscard]] std::vector<Shape> lay_lognormal_shapes(double base, double deviation, double z_low,
                                                        double z_high,
                                                        const std::vector<WearEvidence>& evidence) const;
  [[nodiscard]] double log_weight(const Shape& shape, double z, double y) const;
  [[nodiscard]] double slope(const Shape& shape, double z, double y) const;
  [[nodiscard]] double curvature(const Shape& shape, double y) const;
  [[nodiscard]] double mode(const Shape& shape, double z) const;
  [[nodiscard]] double reach(const Shape& shape, double mode, double direction) const;
  [[nodiscard]] double laplace_log_mass(const Shape& shape, double z) const;
  [[nodiscard]] Profile profile(const Shape& shape, double z) const;
  [[nodiscard]] std::vector<Profile> profiles(double z) const;  // one for each shape
  // Mean of chance_of(number of the shape, y) over the posterior at z.
  template <class ChanceOf>
  [[nodiscard]] double mean_chance(double z, ChanceOf chance_of) const;
  [[nodiscard]] static double log_mass_of(const std::vector<Profile>& at_z);
  [[nodiscard]] static std::vector<double> shares_of(const std::vector<Profile>& at_z);
  [[nodiscard]] static InverseTable tabulate(const Profile& profile);

  double deviation_ = 0;   // of y given the shape
  double log_failed_ = 0;  // ln(-ln(1 - failed_at_rated))
  double failures_ = 0;
  double log_ratio_of_failures_ = 0;  // sum(count ln ratio) over the failures
  std::vector<Shape> shapes_;

  double z_low_ = 0;
  double z_step_ = 0;                 // 0: one z
  std::vector<double> cumulative_;    // shape weights summed up, one run of shapes_.size() per z
  std::vector<InverseTable> tables_;  // of y, likewise; empty when the scale is known exactly
};

}  // namespace mendworth
