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

double Quantity::variance() const noexcept {
  const double range = high_ - low_;
  switch (spread_) {
    case Spread::fixed: return 0;
    case Spread::uniform: return range * range / 12;
    case Spread::beta: return (base() - low_) * (high_ - base()) / 7;
    case Spread::triangular: {
      const double rising = likely_ - low_;
      return (range * range - range * rising + rising * rising) / 18;
    }
  }
  return 0;
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

Quantity independent_sum(const std::vector<Quantity>& terms) {
  double mean = 0, low = 0, high = 0, variance = 0, moved = 0;
  const Quantity* range = nullptr;
  int ranges = 0;
  for (const Quantity& term : terms) {
    mean += term.base();
    low += term.low();
    high += term.high();
    variance += term.variance();
    if (term.is_fixed()) {
      moved += term.base();
    } else {
      range = &term;
      ++ranges;
    }
  }
  if (ranges == 0) return Quantity::exactly(mean);
  if (ranges == 1) {
    if (range->spread() == Spread::uniform)
      return Quantity::between(range->low() + moved, range->high() + moved);
    return Quantity::three_point(range->low() + moved, range->likely() + moved, range->high() + moved,
                                 range->spread());
  }
  // A beta whose ends lie at mean - k below and mean + k above has the variance k^2 below above / 7.
  const double below = mean - low;
  const double above = high - mean;
  const double k = std::min(1.0, std::sqrt(7 * variance / (below * above)));
  const double from = mean - k * below;
  const double to = mean + k * above;
  return Quantity::three_point(from, std::clamp((6 * mean - from - to) / 4, from, to), to);
}

}  // namespace mendworth
