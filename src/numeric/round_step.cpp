#include "numeric/round_step.hpp"

#include <cmath>
#include <stdexcept>

namespace mendworth {

double round_step(double least) {
  if (!(least > 0) || !std::isfinite(least)) throw std::domain_error("a step is above 0");
  constexpr double rounding = 1e-9;
  const double power = std::pow(10.0, std::floor(std::log10(least) + rounding));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= least * (1 - rounding)) return factor * power;
  }
  return 10 * power;
}

}  // namespace mendworth
