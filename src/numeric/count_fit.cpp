#include "numeric/count_fit.hpp"

#include <boost/math/special_functions/digamma.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <stdexcept>

#include "numeric/distributions.hpp"

namespace mendworth {
namespace {

constexpr double least_log_size = -12,
                 most_log_size = 14;  ///< beyond, a clump is the whole stream, or a single arrival

double poisson_likelihood(std::span<const Watched> watched, double rate) {
  double total = 0;
  for (const Watched& w : watched)
    total += w.count * std::log(rate * w.time) - rate * w.time - boost::math::lgamma(w.count + 1);
  return total;
}

/// A count over `time` has the size k x time: sums of independent counts stay in the family.
double clumped_likelihood(std::span<const Watched> watched, double rate, double size) {
  double total = 0;
  for (const Watched& w : watched) {
    const double k = size * w.time;
    total += boost::math::lgamma(w.count + k) - boost::math::lgamma(k) - boost::math::lgamma(w.count + 1) -
             k * std::log1p(rate / size) - w.count * std::log1p(size / rate);
  }
  return total;
}

/// Where the likelihood's slope in the size is zero, at the mean rate, which is the most likely one at any size.
double likely_size(std::span<const Watched> watched, double rate) {
  const auto slope = [&](double log_size) {
    const double size = std::exp(log_size);
    double total = 0;
    for (const Watched& w : watched) {
      const double k = size * w.time;
      total +=
          w.time * (boost::math::digamma(w.count + k) - boost::math::digamma(k) - std::log1p(rate / size));
    }
    return total * size;
  };
  const double low = slope(least_log_size), high = slope(most_log_size);
  if (!(low > 0)) return std::exp(least_log_size);
  if (!(high < 0)) return std::exp(most_log_size);
  std::uintmax_t steps = 200;
  const auto bracket = boost::math::tools::toms748_solve(
      slope, least_log_size, most_log_size, low, high, boost::math::tools::eps_tolerance<double>(45), steps);
  return std::exp((bracket.first + bracket.second) / 2);
}

}  // namespace

double CountFit::rate_error() const noexcept { return std::sqrt(variance() / watched); }

Demand CountFit::within(double time) const {
  if (!(time > 0)) throw std::domain_error("a time must be above 0");
  return Demand::negative_binomial(rate * time, variance() * time * (1 + time / watched));
}

CountFit fit_counts(std::span<const Watched> watched, double level) {
  if (watched.size() < 2)
    throw std::domain_error("a rate with its spread wants at least two times of watching");
  CountFit fit;
  double counted = 0;
  for (const Watched& w : watched) {
    if (!(w.count >= 0 && std::isfinite(w.count) && w.time > 0 && std::isfinite(w.time)))
      throw std::domain_error("a count must be at least 0, its time above 0");
    counted += w.count;
    fit.watched += w.time;
  }
  if (counted == 0) throw std::domain_error("nothing was counted");
  fit.rate = counted / fit.watched;
  for (const Watched& w : watched) {
    const double expected = fit.rate * w.time;
    fit.dispersion += (w.count - expected) * (w.count - expected) / expected;
  }
  fit.degrees = static_cast<double>(watched.size()) - 1;
  fit.p = chi_squared_tail(fit.dispersion, fit.degrees);
  fit.poisson_log_likelihood = poisson_likelihood(watched, fit.rate);
  fit.log_likelihood = fit.poisson_log_likelihood;
  if (fit.p < level) {
    fit.size = likely_size(watched, fit.rate);
    fit.log_likelihood = clumped_likelihood(watched, fit.rate, *fit.size);
  }
  return fit;
}

}  // namespace mendworth
