#pragma once

/// The Weibull law R(x) = exp(-(x/scale)^shape) in plain functions. scale, shape > 0; x, age, further >= 0.
/// Throws std::domain_error outside these ranges. Source of the formulas: the definition of the law and
/// conditional probability; any reliability text, for instance NIST/SEMATECH e-Handbook of Statistical
/// Methods, section 8.1.6.2.
namespace mendworth {

struct WeibullLaw {
  double scale = 1;  ///< 63.2 % have failed by then
  double shape = 1;
};

[[nodiscard]] double survival(const WeibullLaw& law, double x);
/// Chance that an item of this age fails within `further`: -expm1(-(H(age+further) - H(age))), exact in the
/// tails.
[[nodiscard]] double conditional_failure(const WeibullLaw& law, double age, double further);
/// Age at failure of an item that works at `age`, from u in (0,1): the age that a share u does not reach.
[[nodiscard]] double conditional_quantile(const WeibullLaw& law, double age, double u);
[[nodiscard]] double weibull_mean(const WeibullLaw& law);
/// Mean further life of an item of this age: the mean of the law's remaining life, by its quantiles.
[[nodiscard]] double mean_remaining(const WeibullLaw& law, double age);
[[nodiscard]] double weibull_median(const WeibullLaw& law);
/// Scale of the law by which a share `failed` (0..1, exclusive) has failed at `rated_life`.
[[nodiscard]] double scale_from_rated_life(double rated_life, double failed, double shape);
/// Scale of the law with this mean.
[[nodiscard]] double scale_from_mean(double mean, double shape);

}  // namespace mendworth
