#pragma once

/// Present worth with a yearly effective rate r > -1. Times in years. Throws std::domain_error outside
/// ranges.
namespace mendworth {

/// (1 + r)^-t
[[nodiscard]] double discount_factor(double rate, double years);
/// Yearly cost, paid at each year's end, that equals a present cost of 1: r/(1 - (1+r)^-H); 1/H at r = 0.
[[nodiscard]] double capital_recovery(double rate, double horizon_years);

}  // namespace mendworth
