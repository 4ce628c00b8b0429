#include "mendworth/quantity.hpp"

#include <algorithm>
#include <boost/math/distributions/beta.hpp>
#include <cmath>
#include <stdexcept>

namespace mendworth {
namespace {

using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
using BetaLaw = boost::math::beta_distribution<double, Policy>;

void require_limit(double value) {
  if (!std::isfinite(value)) throw std::invalid_argument("a quantity must be a finite number");
}

double triangular_quantile(double low, double likely, double high, double u) {
  const double range = high - low;
  const double rising = likely - low;
  // Each branch measures from its own end, so that both ends are exact.
  return u * range < rising ? low + std::sqrt(u * range * rising)
                            : high - std::sqrt((1 - u) * range * (high - likely));
}

double beta_quantile(double low, double likely, double high, double u) {
  const double mode = (likely - low) / (high - low);
  return low + (high - low) * boost::math::quantile(BetaLaw(1 + 4 * mode, 1 + 4 * (1 - mode)), u);
}

}  // namespace

Quantity Quantity::between(double low, double high) {
  require_limit(low);
  require_limit(high);
  require_limit(high - low);
  if (low > high) throw std::invalid_argument("a range must rise: low <= high");
  if (low == high) return exactly(low);
  Quantity result;
  result.low_ = low;
  result.likely_ = low + (high - low) / 2;
  result.high_ = high;
  result.spread_ = Spread::uniform;
  return result;
}

Quantity Quantity::three_point(double low, double likely, double high, Spread spread) {
  require_limit(low);
  require_limit(likely);
  require_limit(high);
  require_limit(high - low);
  if (spread != Spread::beta && spread != Spread::triangular) {
    throw std::invalid_argument("three points spread as beta or triangular");
  }
  if (low > likely || likely > high) throw std::invalid_argument("a range must rise: low <= likely <= high");
  if (low == high) return exactly(low);
  Quantity result;
  result.low_ = low;
  result.likely_ = likely;
  result.high_ = high;
  result.spread_ = spread;
  return result;
}

double Quantity::mean_of_range() const noexcept {
  // Measured from `low`, so that large values do not overflow and equal parts do not drift.
  switch (spread_) {
    case Spread::fixed: return low_;
    case Spread::uniform: return low_ + (high_ - low_) / 2;
    case Spread::beta: return low_ + (4 * (likely_ - low_) + (high_ - low_)) / 6;
    case Spread::triangular: return low_ + ((likely_ - low_) + (high_ - low_)) / 3;
  }
  return low_;
}

double Quantity::quantile(double u) const {
  if (!(u >= 0 && u <= 1)) throw std::domain_error("a quantile needs a share between 0 and 1");
  if (spread_ == Spread::fixed) return low_;
  if (u == 0) return low_;
  if (u == 1) return high_;
  switch (spread_) {
    case Spread::beta: return beta_quantile(low_, likely_, high_, u);
    case Spread::triangular: return triangular_quantile(low_, likely_, high_, u);
    case Spread::fixed:
    case Spread::uniform: break;
  }
  return low_ + (high_ - low_) * u;
}

Quantity Quantity::scaled(double factor) const {
  if (!(factor >= 0)) throw std::invalid_argument("a quantity is scaled by a factor of at least 0");
  if (is_fixed()) return exactly(low_ * factor);
  if (spread_ == Spread::uniform) return between(low_ * factor, high_ * factor);
  return three_point(low_ * factor, likely_ * factor, high_ * factor, spread_);
}

Quantity sum(const Quantity& a, const Quantity& b) {
  const double low = a.low() + b.low();
  const double high = a.high() + b.high();
  if (a.is_fixed() && b.is_fixed()) return Quantity::exactly(low);
  const auto either_is = [&](Spread spread) { return a.spread() == spread || b.spread() == spread; };
  if (either_is(Spread::beta) && either_is(Spread::triangular)) {
    // No mode gives both shapes their mean; the beta whose mean is right takes the place of the mode.
    const double likely = (6 * (a.base() + b.base()) - low - high) / 4;
    return Quantity::three_point(low, std::clamp(likely, low, high), high, Spread::beta);
  }
  // A uniform one has its mean at the midpoint, as have symmetric three points: their means add up too.
  const double likely = a.likely() + b.likely();
  if (either_is(Spread::beta)) return Quantity::three_point(low, std::clamp(likely, low, high), high);
  if (either_is(Spread::triangular)) {
    return Quantity::three_point(low, std::clamp(likely, low, high), high, Spread::triangular);
  }
  return Quantity::between(low, high);
}

}  // namespace mendworth
