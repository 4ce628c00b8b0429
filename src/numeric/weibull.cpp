#include "numeric/weibull.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace mendworth {
namespace {

constexpr double largest = std::numeric_limits<double>::max();

// The comparisons are false for NaN and for infinity.
void require_positive(double value, const char* message) {
  if (!(value > 0 && value <= largest)) throw std::domain_error(message);
}

void require_not_negative(double value, const char* message) {
  if (!(value >= 0 && value <= largest)) throw std::domain_error(message);
}

void require_share(double value, const char* message) {
  if (!(value > 0 && value < 1)) throw std::domain_error(message);
}

void require_law(const WeibullLaw& law) {
  require_positive(law.scale, "a Weibull scale must be above 0");
  require_positive(law.shape, "a Weibull shape must be above 0");
}

double require_representable(double value, const char* message) {
  if (!(value > 0 && value <= largest)) throw std::domain_error(message);
  return value;
}

double cumulative_hazard(const WeibullLaw& law, double x) { return std::pow(x / law.scale, law.shape); }

}  // namespace

double survival(const WeibullLaw& law, double x) {
  require_law(law);
  require_not_negative(x, "a life must be at least 0");
  return std::exp(-cumulative_hazard(law, x));
}

double conditional_failure(const WeibullLaw& law, double age, double further) {
  require_law(law);
  require_not_negative(age, "an age must be at least 0");
  require_not_negative(further, "a further life must be at least 0");
  if (further == 0) return 0;
  if (further >= age) {
    const double so_far = cumulative_hazard(law, age);
    // An age whose hazard is beyond every double: the item cannot last any longer.
    if (so_far > largest) return 1;
    return -std::expm1(-(cumulative_hazard(law, age + further) - so_far));
  }
  // The difference of the two hazards without their cancellation.
  const double growth = std::expm1(law.shape * std::log1p(further / age));
  const double log_so_far = law.shape * (std::log(age) - std::log(law.scale));
  return -std::expm1(-std::exp(log_so_far + std::log(growth)));
}

double conditional_quantile(const WeibullLaw& law, double age, double u) {
  require_law(law);
  require_not_negative(age, "an age must be at least 0");
  require_share(u, "a quantile needs a share strictly between 0 and 1");
  const double added = -std::log1p(-u);  // hazard between the age and the failure
  if (age == 0) return law.scale * std::pow(added, 1 / law.shape);
  const double so_far = cumulative_hazard(law, age);
  // Each form keeps its digits, and stays finite, where the other one would lose them.
  if (so_far > added) return age * std::exp(std::log1p(added / so_far) / law.shape);
  return std::max(age, law.scale * std::pow(so_far + added, 1 / law.shape));
}

double weibull_mean(const WeibullLaw& law) {
  require_law(law);
  return require_representable(law.scale * std::tgamma(1 + 1 / law.shape),
                               "the mean of this Weibull law is not a representable number");
}

double mean_remaining(const WeibullLaw& law, double age) {
  constexpr int points = 2048;
  double sum = 0;
  for (int i = 0; i < points; ++i) sum += conditional_quantile(law, age, (i + 0.5) / points) - age;
  return sum / points;
}

double weibull_median(const WeibullLaw& law) {
  require_law(law);
  return require_representable(law.scale * std::pow(std::numbers::ln2, 1 / law.shape),
                               "the median of this Weibull law is not a representable number");
}

double scale_from_rated_life(double rated_life, double failed, double shape) {
  require_positive(rated_life, "a rated life must be above 0");
  require_share(failed, "the share failed at the rated life must be strictly between 0 and 1");
  require_positive(shape, "a Weibull shape must be above 0");
  return require_representable(rated_life * std::pow(-std::log1p(-failed), -1 / shape),
                               "the scale for this rated life is not a representable number");
}

double scale_from_mean(double mean, double shape) {
  require_positive(mean, "a mean life must be above 0");
  require_positive(shape, "a Weibull shape must be above 0");
  return require_representable(mean / std::tgamma(1 + 1 / shape),
                               "the scale for this mean life is not a representable number");
}

}  // namespace mendworth
