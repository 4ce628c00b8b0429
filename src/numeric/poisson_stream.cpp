#include "numeric/poisson_stream.hpp"

#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <stdexcept>

namespace mendworth {

double discounted_event(int k, double rate, double log_growth, double until) {
  const double faster = rate + log_growth;
  if (k < 1 || !(rate > 0) || !(until >= 0) || !(faster > 0)) {
    throw std::domain_error("discounted_event: an argument is out of range");
  }
  return std::exp(k * std::log(rate / faster)) * boost::math::gamma_p(k, faster * until);
}

}  // namespace mendworth
