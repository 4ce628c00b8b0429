#pragma once

#include <cmath>

#include "mendworth/quantity.hpp"
#include "numeric/quantile_table.hpp"

namespace mendworth {

/// Draws from a Quantity by inversion, fast: closed form for uniform and triangular, a table for beta (made
/// once; error of the quantile below 1e-4 of the range, of the mean below 1e-6 of the range). Making one
/// takes well under 0.2 ms.
class Sampler {
 public:
  explicit Sampler(const Quantity& quantity);
  /// The value at u in (0,1); never falls as u rises.
  [[nodiscard]] double operator()(double u) const noexcept {
    switch (spread_) {
      case Spread::beta: return low_ + range_ * beta_.quantile(u);
      case Spread::uniform: return low_ + range_ * u;
      case Spread::triangular:
        return u < rising_share_ ? low_ + range_ * std::sqrt(u * rising_share_)
                                 : high_ - range_ * std::sqrt((1 - u) * (1 - rising_share_));
      case Spread::fixed: break;
    }
    return low_;
  }

 private:
  Spread spread_;
  double low_, high_, range_;
  double rising_share_ = 0;  ///< share below the mode, triangular only
  QuantileTable beta_;       ///< on 0..1
};

}  // namespace mendworth
