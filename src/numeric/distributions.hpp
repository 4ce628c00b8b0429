#pragma once

/// Quantiles and tails of the laws that tests and limits are read from. All throw std::domain_error outside
/// the ranges given.
namespace mendworth {

/// The value that a standard normal number stays below with this chance, 0 < chance < 1.
[[nodiscard]] double normal_quantile(double chance);
/// Chance that a chi-squared number with `degrees` > 0 of freedom is at least `statistic` >= 0.
[[nodiscard]] double chi_squared_tail(double statistic, double degrees);
/// The value that it stays below with this chance, 0 < chance < 1.
[[nodiscard]] double chi_squared_quantile(double chance, double degrees);

}  // namespace mendworth
