#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lifetime/maximum.hpp"
#include "mendworth/lifetime.hpp"

namespace mendworth::lifetime {

/// A law fitted to one group: what is shown, and what further questions start from.
struct Fitted {
  Maximum maximum;
  Covariance covariance;
  WeibullFit shown;
};

struct FitResult {
  std::optional<Fitted> fitted;
  std::string reason;  ///< why not
};

[[nodiscard]] FitResult fit_weibull(const WeibullLikelihood& likelihood, const LifetimeSettings& settings);

/// ln of the median life, and its variance.
struct LogMedian {
  double value = 0, variance = 0;
};
[[nodiscard]] LogMedian log_median(const Fitted& fitted, double centre);

/// The limit at the assumed shape; empty if nothing is known to have worked at any age.
[[nodiscard]] std::optional<OneSidedLimit> one_sided_limit(const std::vector<LifeRecord>& records,
                                                           const LifetimeSettings& settings);

}  // namespace mendworth::lifetime
