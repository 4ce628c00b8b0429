#pragma once

#include <optional>
#include <span>

#include "numeric/demand.hpp"

/// A rate from counts: how many came in each of several times of watching, those without any included.
namespace mendworth {

/// One time of watching.
struct Watched {
  double count = 0;  ///< >= 0, whole
  double time = 1;   ///< > 0, in any unit
};

/// The law of a stream of arrivals. By the index of dispersion (Fisher, Statistical Methods for Research Workers; Cox and
/// Lewis, The Statistical Analysis of Series of Events, 1966, section 6.3) it is Poisson unless counts differ more than
/// a Poisson stream's would in `level` of all cases; else negative binomial by maximum likelihood (Bliss and Fisher, 1953,
/// Biometrics 9, 176-200): arrivals in clumps, counts of separate times independent of each other.
struct CountFit {
  double rate = 0;             ///< a unit of time
  double watched = 0;          ///< all times together
  std::optional<double> size;  ///< the k of the negative binomial law of a unit of time; absent: Poisson
  double dispersion = 0;       ///< sum of (count - expected)^2 / expected
  double degrees = 0;          ///< of freedom, of chi-squared: times of watching less one
  double p = 1;                ///< chance of such a dispersion or more if the stream is Poisson
  double log_likelihood = 0;   ///< of the law chosen
  double poisson_log_likelihood = 0;

  /// Of the count of a unit of time: rate, or rate + rate^2 / size.
  [[nodiscard]] double variance() const noexcept { return size ? rate + rate * rate / *size : rate; }
  /// Standard error of the rate.
  [[nodiscard]] double rate_error() const noexcept;
  /// How many come within so much further time > 0, the rate being known no better than the counts tell: a Poisson stream
  /// whose rate is gamma distributed. Its mean is rate x time; its variance variance() x time (1 + time / watched), what
  /// comes by chance and what is not known of the rate. For a Poisson stream that is the law of Bayes' theorem with the
  /// prior 1 / rate.
  [[nodiscard]] Demand within(double time) const;
};

/// Throws std::domain_error for fewer than two times of watching, times or counts out of range, or nothing counted.
[[nodiscard]] CountFit fit_counts(std::span<const Watched> watched, double level = 0.05);

}  // namespace mendworth
