#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/history.hpp"

/// What a history says about the life of a part: the Weibull law of maximum likelihood and its limits, beside
/// the distribution-free curve.
namespace mendworth {

/// What is asked of a history.
struct LifetimeSettings {
  double confidence = 0.95;             ///< of two-sided limits, 0.5 .. 0.999
  std::vector<double> times;            ///< ages at which the share still working is asked for, > 0
  std::optional<double> assumed_shape;  ///< for a history without failures, > 0; default 2
};

/// An estimate with limits found in two ways.
struct LifeEstimate {
  double value = 0;             ///< of maximum likelihood; a ratio where that is asked
  std::optional<double> error;  ///< standard error by the delta method
  /// From the curvature at the maximum, symmetric in ln (shape, scale, lives) or in ln(-ln R) (shares).
  double normal_low =
      0;  ///< lower limit from the curvature at the maximum, symmetric in ln (shape, scale, lives) or in ln(-ln R) (shares)
  double normal_high = 0;  ///< upper one
  /// Values that the likelihood ratio does not reject; 0 or infinity: no such limit exists.
  double profile_low = 0;  ///< least value that the likelihood ratio does not reject; 0: no such limit exists
  double profile_high = 0;  ///< greatest one; infinity: none exists
};

/// The share still working at an age that was asked about.
struct TimedShare {
  double time = 0;       ///< age, in the unit of the history
  LifeEstimate working;  ///< R(time)
};

/// Weibull with R(x) = exp(-(x / scale)^shape).
struct WeibullFit {
  LifeEstimate shape;                ///< dimensionless
  LifeEstimate scale;                ///< age by which 63.2 % have failed
  LifeEstimate median;               ///< age by which half have failed
  LifeEstimate b10;                  ///< age by which 10 % have failed
  std::vector<TimedShare> at_times;  ///< in the order asked
  double log_likelihood = 0;         ///< at its maximum
  /// Of (ln scale, ln shape): inverse of the observed information.
  double var_log_scale =
      0;  ///< inverse of the observed information of (ln scale, ln shape): its first variance
  double cov_log_scale_log_shape = 0;  ///< covariance of the two
  double var_log_shape = 0;            ///< the second variance
};

/// One step of the distribution-free estimate of the share still working: Kaplan & Meier's product limit, or
/// Turnbull's where failures are known as intervals. With pieces that came under watch later, the share is
/// that of pieces which reach the least age watched.
struct SurvivalStep {
  double time = 0;     ///< the step is down to `working` here
  double at_risk = 0;  ///< pieces watched just before; 0 where intervals leave it unknown
  double failed = 0;   ///< pieces at this time; expected ones for Turnbull's estimate
  double working = 1;  ///< share, 1..0
  double error = 0;    ///< Greenwood's; 0 for Turnbull's estimate, which has no such formula
  /// Limits symmetric in ln(-ln R), Greenwood's variance; 0 and 1, which say nothing, for Turnbull's
  /// estimate. Where none is left, low is 0 and high that of the step before.
  double low =
      0;  ///< limit symmetric in ln(-ln R), Greenwood's variance; 0, which says nothing, for Turnbull's estimate
  double high = 1;  ///< upper one; 1, likewise
};

/// The share still working over the ages, without a law.
struct SurvivalCurve {
  bool by_intervals = false;        ///< Turnbull's
  std::vector<SurvivalStep> steps;  ///< by rising time
};

/// Whether a Weibull law describes the record: the likelihood ratio against the exponentiated Weibull law
/// R(x) = 1 - (1 - exp(-(x / scale)^shape))^power (Mudholkar & Srivastava, IEEE Transactions on Reliability 42,
/// 1993), which has the Weibull law at power 1; the power is sought in 1/20 .. 20. One statistic with its chance
/// under the law, from chi-squared with 1 degree of freedom: close from some 50 failures on; with 10 to 20, a
/// chance of 0.05 is really 0.01 to 0.1 (by simulation).
struct FitTest {
  std::string method;    ///< in words, with its name in the literature
  double statistic = 0;  ///< twice the difference of the log-likelihoods, >= 0
  double chance = 1;     ///< of a statistic at least as large if the law holds
};

/// What can be said without a maximum: no failures, or all at one age. With S = sum(worked_at^shape -
/// first_seen^shape) over the pieces and r failures, scale >= (2 S / chi-squared(confidence; 2 r +
/// 2))^(1/shape); without failures (S / -ln(1 - confidence))^(1/shape). Source: W. Nelson, Weibull analysis
/// of reliability data with few or no failures, Journal of Quality Technology 17 (1985).
struct OneSidedLimit {
  double assumed_shape = 2;    ///< Weibull, > 0
  double scale_at_least = 0;   ///< at the one-sided confidence
  double median_at_least = 0;  ///< likewise
  double b10_at_least = 0;     ///< likewise
  double confidence = 0.95;    ///< of the one-sided limits
};

/// What the records of one group say.
struct GroupLifetime {
  std::string name;           ///< as in the history; "all" for the groups as one
  double failed_exact = 0;    ///< pieces, seen to fail
  double failed_between = 0;  ///< failed between two looks
  double failed_before = 0;   ///< failed before they were first looked at
  double working = 0;         ///< had not failed
  double truncated = 0;       ///< came under watch later than new
  double total_time =
      0;  ///< pieces times time watched; to the middle where a failure is known as an interval
  std::optional<WeibullFit> fit;       ///< absent: the likelihood has no maximum
  std::string no_fit_reason;           ///< a sentence; empty if there is a fit
  std::optional<OneSidedLimit> limit;  ///< where there is no fit
  SurvivalCurve curve;                 ///< distribution-free
  std::optional<FitTest> test;         ///< of the Weibull law; absent without a fit
};

/// Of two groups, one without any failure: is it better? Its likelihood rises to 1 as its scale grows without
/// end, at every shape, so the ratio of the median lives has no estimate and no upper limit.
struct FailureFreeGroup {
  std::size_t group = 0;  ///< 0 or 1, in Lifetime::groups; the other one has the failures
  /// Median life of this group over that of the other at one shape for both: the lower limit by profile
  /// likelihood, where twice the fall of the log-likelihood from its supremum is the chi-squared quantile of
  /// the confidence with 2 degrees of freedom, -2 ln(1 - confidence). For a known shape this is the exact
  /// one-sided limit (see GroupComparison::chance). 0: no such limit.
  double median_ratio_at_least = 0;
};

/// Are the groups alike? Likelihood ratio of one common law against one for each.
///
/// Where one of two groups has no failure (`failure_free`), its shape is free of cost and both statistics are
/// the same, with 2 and with 1 degree of freedom. Its estimate then lies at infinity, on the boundary of the
/// parameters, where the usual theory of the chi-squared chance does not hold. `chance`, which is
/// exp(-statistic/2), is exact for a known shape: given n failures among all pieces, none falls on the group
/// with the share w of all sum(age^shape) with chance (1 - w)^n, and the statistic is -2 n ln(1 - w). It is
/// one-sided: the chance that this group would be spared. `common_shape_chance`, with 1 degree, is then
/// approximate at best: where it is below 0.1 it is too small by a factor of 2.5 or more, so no words should
/// be drawn from it.
struct GroupComparison {
  double statistic = 0;  ///< twice the difference of the log-likelihoods, >= 0
  int degrees = 0;       ///< of freedom of its chi-squared law
  double chance = 1;     ///< of a statistic at least as large if the groups are alike
  /// For two groups with failures: ratio of the median lives, second over first, with limits from the normal
  /// approximation; the profile limits are not computed (0 and infinity).
  std::optional<LifeEstimate> median_ratio;
  /// The same at a common shape, which is what is asked if the parts wear alike.
  double common_shape_statistic = 0;
  int common_shape_degrees = 0;    ///< of freedom
  double common_shape_chance = 1;  ///< of a statistic at least as large if the medians are alike
  std::optional<FailureFreeGroup> failure_free;  ///< absent: both have failures, or there are more than two
};

/// What a history says of the life of a part.
struct Lifetime {
  std::string source_name;  ///< the file
  std::string part;         ///< that was asked for; empty: all rows
  std::vector<std::string>
      parts;  ///< as in the history: several of them in one law are pointed out to the reader
  LifeUnit unit = LifeUnit::cycles;   ///< of every age
  double confidence = 0.95;           ///< of two-sided limits
  std::vector<GroupLifetime> groups;  ///< in the order of the history
  std::optional<GroupLifetime> all;   ///< all groups as one, if there are several
  std::optional<GroupComparison>
      comparison;                    ///< of the groups; absent: there is one, or they cannot be compared
  std::string no_comparison_reason;  ///< a sentence; empty if there is a comparison
};

/// Throws std::invalid_argument for settings out of range, and for records that contradict themselves: failed
/// before worked, failed by the age when first seen (such a piece would not be here), a weight that is not
/// above 0.
[[nodiscard]] Lifetime lifetime_of(const History& history, const LifetimeSettings& settings = {});

/// A table for the rates folder (`[life.NAME]`) with this law as a prior. A prior takes the rated life and
/// the shape as independent; so the rated life is written for that share failed (`failed_at_rated`) at which
/// the two estimates are uncorrelated, usually near the share that did fail. Then the spreads, exp(standard
/// error of the logarithm), carry the whole covariance, and median and B10 life have the estimates and
/// standard errors of the fit. The source says how many failed and how many still worked. Throws
/// std::invalid_argument if the group has no fit, the shape is one that a rates table may not hold (0.1 to
/// 20), or the name is not one of letters, digits and hyphens.
[[nodiscard]] std::string rates_entry(const GroupLifetime& group, const Lifetime& from,
                                      const std::string& name);

}  // namespace mendworth
