#pragma once

namespace mendworth {

/// Of a Poisson stream of events, `rate` > 0 a year: E[exp(-log_growth T); T <= until], T the time in years of the k-th
/// event, k >= 1, until >= 0. T is gamma distributed with shape k, so that the mean is
/// (rate/(rate + log_growth))^k P(k, (rate + log_growth) until), P the regularised lower incomplete gamma function; for
/// log_growth 0 the chance that at least k events come by then. Throws std::domain_error outside the ranges, and if
/// rate + log_growth is not above 0.
[[nodiscard]] double discounted_event(int k, double rate, double log_growth, double until);

}  // namespace mendworth
