#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// The option with the least cost, the saving with its error and spread, and how sure it is. costs[i] goes with
/// results[i] and contest.options[i].
[[nodiscard]] Verdict verdict_of(const Contest& contest, const std::vector<OptionResult>& results,
                                 const std::vector<double>& costs);

/// How sure a verdict is that holds in this share of the futures.
[[nodiscard]] Confidence confidence_of(double share) noexcept;

/// The value below which a share u of the values lies: linear between order statistics at u (n - 1), the definition
/// known as type 7 (Hyndman & Fan, "Sample quantiles in statistical packages", 1996). `values` is reordered.
[[nodiscard]] double sample_quantile(std::vector<double>& values, double u);

/// The savings of one option, future by future, against another that is dearer where they are above 0.
[[nodiscard]] std::vector<SavingBin> saving_bins(const std::vector<double>& cost,
                                                 const std::vector<double>& other_cost);

}  // namespace mendworth
