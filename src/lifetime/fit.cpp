#include "lifetime/fit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "lifetime/profile.hpp"
#include "numeric/distributions.hpp"

namespace mendworth::lifetime {
namespace {

using Kind = ProfiledQuantity::Kind;

const double log_hazard_b10 = std::log(-std::log1p(-0.1));
const double log_hazard_median = std::log(std::numbers::ln2);

double variance_of(const QuantityAt& at, const Covariance& c) {
  return at.d_level * at.d_level * c.level + 2 * at.d_level * at.d_shape * c.both +
         at.d_shape * at.d_shape * c.shape;
}

// An estimate whose limits are found in its logarithm (or in ln H) and then carried over.
class Limits {
 public:
  Limits(const WeibullLikelihood& likelihood, const Fitted& fitted, double confidence)
      : likelihood_(likelihood), fitted_(fitted), normal_(normal_quantile(0.5 + confidence / 2)) {}

  [[nodiscard]] LifeEstimate positive(const ProfiledQuantity& quantity) const {
    const double centre = quantity.kind == Kind::log_life ? likelihood_.observations().centre : 0;
    const Found found = find(quantity);
    LifeEstimate out;
    out.value = std::exp(found.value + centre);
    out.error = out.value * found.error;
    out.normal_low = std::exp(found.value - normal_ * found.error + centre);
    out.normal_high = std::exp(found.value + normal_ * found.error + centre);
    out.profile_low = std::exp(found.profile.low + centre);
    out.profile_high = std::exp(found.profile.high + centre);
    return out;
  }

  // The share that works: it falls as ln H rises.
  [[nodiscard]] LifeEstimate share(double age) const {
    const Found found = find({Kind::log_hazard, std::log(age) - likelihood_.observations().centre});
    const auto working = [](double log_hazard) { return std::exp(-std::exp(log_hazard)); };
    LifeEstimate out;
    out.value = working(found.value);
    const double slope = std::exp(found.value - std::exp(found.value));
    out.error = slope > 0 ? slope * found.error : 0.0;
    out.normal_low = working(found.value + normal_ * found.error);
    out.normal_high = working(found.value - normal_ * found.error);
    out.profile_low = working(found.profile.high);
    out.profile_high = working(found.profile.low);
    return out;
  }

 private:
  struct Found {
    double value = 0, error = 0;
    ProfileLimits profile;
  };
  [[nodiscard]] Found find(const ProfiledQuantity& quantity) const {
    const Maximum& at = fitted_.maximum;
    const QuantityAt here = quantity_at(quantity, at.level, at.shape);
    const double error = std::sqrt(variance_of(here, fitted_.covariance));
    return {here.value, error, profile_limits(likelihood_, at, quantity, error, normal_ * normal_ / 2)};
  }

  const WeibullLikelihood& likelihood_;
  const Fitted& fitted_;
  double normal_;
};

}  // namespace

FitResult fit_weibull(const WeibullLikelihood& likelihood, const LifetimeSettings& settings) {
  FitResult out;
  out.reason = why_no_maximum(likelihood.observations());
  if (!out.reason.empty()) return out;
  const std::optional<Maximum> maximum = find_maximum(likelihood);
  const std::optional<Covariance> covariance = maximum ? covariance_at(maximum->here) : std::nullopt;
  if (!covariance) {  // a flat top is a maximum that runs off, met by rounding
    out.reason =
        "The likelihood has no maximum: given the ages at which the pieces came under watch, it is greatest "
        "as the shape runs off to 0 or beyond every bound.";
    return out;
  }

  Fitted fitted;
  fitted.maximum = *maximum;
  fitted.covariance = *covariance;
  const Limits limits(likelihood, fitted, settings.confidence);
  WeibullFit& shown = fitted.shown;
  shown.shape = limits.positive({Kind::log_shape, 0});
  shown.scale = limits.positive({Kind::log_life, 0});
  shown.median = limits.positive({Kind::log_life, log_hazard_median});
  shown.b10 = limits.positive({Kind::log_life, log_hazard_b10});
  for (const double time : settings.times) shown.at_times.push_back({time, limits.share(time)});
  shown.log_likelihood = maximum->here.value;

  // ln(scale) = centre - level/shape
  const QuantityAt scale = quantity_at({Kind::log_life, 0}, maximum->level, maximum->shape);
  shown.var_log_scale = variance_of(scale, *covariance);
  shown.cov_log_scale_log_shape =
      (scale.d_level * covariance->both + scale.d_shape * covariance->shape) / maximum->shape;
  shown.var_log_shape = covariance->shape / (maximum->shape * maximum->shape);
  out.fitted = std::move(fitted);
  return out;
}

LogMedian log_median(const Fitted& fitted, double centre) {
  const QuantityAt at =
      quantity_at({Kind::log_life, log_hazard_median}, fitted.maximum.level, fitted.maximum.shape);
  return {at.value + centre, variance_of(at, fitted.covariance)};
}

std::optional<OneSidedLimit> one_sided_limit(const std::vector<LifeRecord>& records,
                                             const LifetimeSettings& settings) {
  OneSidedLimit out;
  out.assumed_shape = settings.assumed_shape.value_or(2.0);
  out.confidence = settings.confidence;
  double longest = 0;
  for (const LifeRecord& record : records) longest = std::max({longest, record.worked_at, record.first_seen});
  // Relative to the longest age, so that no power overflows.
  double sum = 0, failed = 0;
  for (const LifeRecord& record : records) {
    if (!record.working()) failed += record.weight;
    const double worked = std::max(record.worked_at, record.first_seen);
    if (worked > record.first_seen) {
      sum += record.weight * (std::pow(worked / longest, out.assumed_shape) -
                              std::pow(record.first_seen / longest, out.assumed_shape));
    }
  }
  if (!(sum > 0)) return std::nullopt;
  const double bound = chi_squared_quantile(out.confidence, 2 * failed + 2) / 2;
  const double log_scale = std::log(longest) + std::log(sum / bound) / out.assumed_shape;
  out.scale_at_least = std::exp(log_scale);
  out.median_at_least = std::exp(log_scale + log_hazard_median / out.assumed_shape);
  out.b10_at_least = std::exp(log_scale + log_hazard_b10 / out.assumed_shape);
  return out;
}

}  // namespace mendworth::lifetime
