#include "numeric/discount.hpp"

#include <cmath>
#include <stdexcept>

namespace mendworth {
namespace {

void require_rate(double rate) {
  if (!(rate > -1) || !std::isfinite(rate)) throw std::domain_error("a yearly rate must be above -1");
}

double require_finite(double worth) {
  if (!std::isfinite(worth)) throw std::domain_error("a present worth is not a representable number");
  return worth;
}

}  // namespace

double discount_factor(double rate, double years) {
  require_rate(rate);
  if (!(years >= 0) || !std::isfinite(years)) throw std::domain_error("a time must be at least 0 years");
  return require_finite(std::exp(-years * std::log1p(rate)));
}

double capital_recovery(double rate, double horizon_years) {
  require_rate(rate);
  if (!(horizon_years > 0) || !std::isfinite(horizon_years)) {
    throw std::domain_error("a horizon must be above 0 years");
  }
  if (rate == 0) return require_finite(1 / horizon_years);
  return require_finite(rate / -std::expm1(-horizon_years * std::log1p(rate)));
}

}  // namespace mendworth
