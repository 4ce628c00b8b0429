#pragma once

#include <limits>

#include "mendworth/lifetime.hpp"

/// A lifetime made up by hand for the renderers' tests. The figures are invented; they need not agree with each other
/// beyond what the renderers check.
namespace mendworth::testing {

inline GroupLifetime fitted_group() {
  GroupLifetime g;
  g.failed_exact = 3;
  g.failed_between = 1;
  g.working = 4;
  g.truncated = 2;
  g.total_time = 302'000;
  WeibullFit fit;
  fit.shape = {2.125, 0.4375, 1.42, 3.18, 1.375, 3.09};
  fit.scale = {52'300, 5'120, 43'200, 63'400, 43'900, 65'100};
  fit.median = {44'000, 4'600, 35'800, 54'000, 36'400, 54'700};
  fit.b10 = {18'150, 3'900, 11'900, 27'700, 11'300, 26'400};
  fit.at_times = {{30'000, {0.7345, 0.0712, 0.57, 0.846, 0.58, 0.85}}};
  fit.log_likelihood = -48.123456;
  fit.var_log_scale = 0.00958;
  fit.cov_log_scale_log_shape = -0.0021;
  fit.var_log_shape = 0.04238;
  g.fit = fit;
  g.curve.steps = {{20'000, 8, 1, 0.875, 0.1169, 0.387, 0.981},
                   {31'000, 6, 1, 0.7292, 0.1649, 0.276, 0.929},
                   {45'500, 4, 1, 0.5469, 0.2055, 0.139, 0.838}};
  g.test = FitTest{"distance of the product-limit curve (Anderson and Darling)", 0.412, 0.37};
  return g;
}

/// One group, without a grouping column.
inline Lifetime lifetime() {
  Lifetime l;
  l.source_name = "history.csv";
  l.part = "encoder";
  l.parts = {"encoder"};
  l.unit = LifeUnit::cycles;
  l.groups = {fitted_group()};
  return l;
}

/// A group without failures.
inline GroupLifetime unfailed_group() {
  GroupLifetime g;
  g.working = 5;
  g.total_time = 61'000;
  g.no_fit_reason = "No piece has failed, so the likelihood has no maximum.";
  g.limit = OneSidedLimit{2, 21'500, 17'900, 6'980, 0.95};
  return g;
}

/// Two groups with a comparison.
inline Lifetime two_groups() {
  Lifetime l = lifetime();
  l.groups[0].name = "Old Dock";
  GroupLifetime second = fitted_group();
  second.name = "Far <Harbour> & Co";
  second.fit->scale.value = 91'000;
  second.fit->median = {76'500, 9'000, 60'700, 96'300, 0, std::numeric_limits<double>::infinity()};
  second.curve.by_intervals = true;
  second.curve.steps = {{30'000, 0, 0, 0.8, 0, 0, 1}, {70'000, 0, 0, 0.5, 0, 0, 1}};
  l.groups.push_back(second);
  l.all = fitted_group();
  GroupComparison c;
  c.statistic = 7.25;
  c.degrees = 2;
  c.chance = 0.0266;
  c.median_ratio = LifeEstimate{1.74, 0.3, 1.24, 2.44, 1.2, 2.5};
  c.common_shape_statistic = 7.1;
  c.common_shape_degrees = 1;
  c.common_shape_chance = 0.0077;
  l.comparison = c;
  return l;
}

/// Two groups, the first of them without failures.
inline Lifetime failure_free_group() {
  Lifetime l = two_groups();
  l.groups[0] = unfailed_group();
  l.groups[0].name = "sealed";
  l.groups[1].name = "open";
  GroupComparison c;
  c.statistic = c.common_shape_statistic = 7.25;
  c.degrees = 2;
  c.chance = 0.0266;
  c.common_shape_degrees = 1;
  c.common_shape_chance = 0.0071;
  c.failure_free = FailureFreeGroup{0, 1.7};
  l.comparison = c;
  return l;
}

}  // namespace mendworth::testing
