#pragma once

#include "lifetime/maximum.hpp"

/// Limits of one quantity of a Weibull law by the likelihood ratio, the other parameter being free.
namespace mendworth::lifetime {

/// A number that fixes one of the two parameters when the other is known. In terms of level and shape (see
/// WeibullLikelihood):
struct ProfiledQuantity {
  enum class Kind {
    log_shape,   ///< ln(shape)
    log_life,    ///< ln of the life at which ln H = `fixed`, minus the centre: (fixed - level)/shape
    log_hazard,  ///< ln H at the age with ln(age) - centre = `fixed`: level + shape fixed
  };
  Kind kind = Kind::log_shape;
  double fixed = 0;
};

/// The quantity's value, and its derivatives in (level, shape).
struct QuantityAt {
  double value = 0, d_level = 0, d_shape = 0;
};
[[nodiscard]] QuantityAt quantity_at(const ProfiledQuantity& quantity, double level, double shape);

struct ProfileLimits {
  double low = 0, high = 0;  ///< -infinity, infinity: no such limit
};

/// The values at which the greatest log-likelihood for the value lies `fall` > 0 below the maximum. `error` >
/// 0, the quantity's standard error, sets where the search begins.
[[nodiscard]] ProfileLimits profile_limits(const WeibullLikelihood& likelihood, const Maximum& maximum,
                                           const ProfiledQuantity& quantity, double error, double fall);

}  // namespace mendworth::lifetime
