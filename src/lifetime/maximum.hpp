#pragma once

#include <optional>
#include <string>

#include "lifetime/likelihood.hpp"

namespace mendworth::lifetime {

/// The place of greatest likelihood, with the derivatives there.
struct Maximum {
  double level = 0, shape = 1;
  Evaluation here;
};

/// Covariance of (level, shape): the inverse of the observed information.
struct Covariance {
  double level = 0, both = 0, shape = 0;
};

/// Why there is no maximum at a finite place, as a sentence; empty if these records have one. Without late
/// watching the rules are exact: the likelihood is concave, so its maximum is missing only if it does not
/// fall in some direction.
[[nodiscard]] std::string why_no_maximum(const Observations& observations);

/// Newton's method with halved steps; near the end plain steps, to the last digits. With late watching, where
/// several maxima may exist, from the best of a row of shapes. Empty if the shape runs off to 0 or beyond
/// every bound, which the rules above tell except for late watching. Needs why_no_maximum to be empty.
[[nodiscard]] std::optional<Maximum> find_maximum(const WeibullLikelihood& likelihood);

/// Empty if the information cannot be inverted.
[[nodiscard]] std::optional<Covariance> covariance_at(const Evaluation& maximum);

}  // namespace mendworth::lifetime
