#pragma once

#include <optional>

#include "lifetime/maximum.hpp"
#include "mendworth/lifetime.hpp"

namespace mendworth::lifetime {

/// Pieces that must have failed for the test: with fewer the chances of chi-squared are far off.
inline constexpr double least_failures_for_test = 5;

/// Likelihood ratio of the exponentiated Weibull law, F(x) = (1 - exp(-H(x)))^power, over the Weibull law,
/// whose `maximum` is given; chi-squared with 1 degree of freedom. Takes every kind of censoring and late
/// watching. The power is sought in 1/20 .. 20, so the statistic stays finite where the likelihood rises
/// along a ridge. Empty with few failures.
[[nodiscard]] std::optional<FitTest> test_of_fit(const Observations& observations, const Maximum& maximum);

}  // namespace mendworth::lifetime
