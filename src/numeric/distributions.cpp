#include "numeric/distributions.hpp"

#include <boost/math/special_functions/erf.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace mendworth {
namespace {

using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

void require_chance(double chance) {
  if (!(chance > 0 && chance < 1)) throw std::domain_error("a chance must be strictly between 0 and 1");
}

void require_degrees(double degrees) {
  if (!(degrees > 0 && std::isfinite(degrees))) throw std::domain_error("degrees of freedom must be above 0");
}

}  // namespace

double normal_quantile(double chance) {
  require_chance(chance);
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * chance, Policy());
}

double chi_squared_tail(double statistic, double degrees) {
  require_degrees(degrees);
  if (!(statistic >= 0)) throw std::domain_error("a chi-squared statistic must be at least 0");
  if (std::isinf(statistic)) return 0;
  return boost::math::gamma_q(degrees / 2, statistic / 2, Policy());
}

double chi_squared_quantile(double chance, double degrees) {
  require_degrees(degrees);
  require_chance(chance);
  return 2 * boost::math::gamma_p_inv(degrees / 2, chance, Policy());
}

}  // namespace mendworth
