#pragma once

#include <vector>

#include "mendworth/lifetime.hpp"

namespace mendworth::lifetime {

/// Kaplan & Meier's estimate for exact failures and survivors, with late entry (at risk at t: first_seen < t
/// <= last age) and weights as counts of pieces. Steps at failures only, up to the one that leaves none.
/// Source: Kaplan & Meier, Journal of the American Statistical Association 53 (1958); late entry: Klein &
/// Moeschberger, Survival Analysis, 2nd ed., section 4.6. `normal`: the normal quantile of the limits.
[[nodiscard]] SurvivalCurve product_limit(const std::vector<LifeRecord>& records, double normal);

/// Whether a record is known by an interval only, so that the product limit does not apply.
[[nodiscard]] bool any_interval(const std::vector<LifeRecord>& records);

}  // namespace mendworth::lifetime
