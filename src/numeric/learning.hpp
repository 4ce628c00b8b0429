#pragma once

namespace mendworth {

/// Share of the first time that the n-th repetition takes: max(floor, n^(log2 rate)), the unit curve.
/// n >= 1, 0 < rate <= 1, 0 <= floor <= 1; throws std::domain_error otherwise.
/// Source: US government cost estimating guidance, "unit" (Crawford) form.
[[nodiscard]] double learning_factor(int n, double rate, double floor);

}  // namespace mendworth
