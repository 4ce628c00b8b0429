// Counts with and without clumps, against fits in print.
#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

#include "numeric/count_fit.hpp"
#include "numeric/demand.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;
using mendworth::test::published::near_rel;

namespace {

/// frequencies[n] times a count of n.
std::vector<Watched> counts(const std::vector<int>& frequencies) {
  std::vector<Watched> watched;
  for (std::size_t n = 0; n < frequencies.size(); ++n) {
    for (int i = 0; i < frequencies[n]; ++i) watched.push_back({static_cast<double>(n), 1});
  }
  return watched;
}

}  // namespace

TEST_SUITE_BEGIN("published: counts");

// von Bortkiewicz, Das Gesetz der kleinen Zahlen (1898): deaths by horse kicks in 200 corps-years, from memory; mean 0.61,
// variance 0.611 as printed in many texts (from memory). Derived: the index is 199 x variance / mean.
TEST_CASE("deaths by horse kicks are a Poisson stream") {
  const CountFit fit = fit_counts(counts({109, 65, 22, 3, 1}));
  CHECK(near_abs(fit.rate, 0.61, 1e-12));
  CHECK(near_abs(fit.dispersion * fit.rate / fit.degrees, 0.611, 5e-4));
  CHECK(fit.degrees == 199);
  CHECK(fit.p > 0.4);
  CHECK_FALSE(fit.size);
  // As printed beside the counts, from memory: expected 108.7, 66.3, 20.2, 4.1, 0.6.
  const Demand law = Demand::poisson(fit.rate);
  const std::vector<double> expected = {108.7, 66.3, 20.2, 4.1, 0.6};
  for (int k = 0; k < 5; ++k)
    CHECK(near_abs(200 * law.chance(k), expected[static_cast<std::size_t>(k)], 0.06));
}

// Bliss and Fisher (1953), Biometrics 9, 176-200: red mites on 150 apple leaves, k = 1.02459 by maximum likelihood; counts
// and k from memory, and computed anew with Python 3.11's lgamma: 1.0245925, log-likelihood -222.4371536.
TEST_CASE("mites on apple leaves come in clumps") {
  const CountFit fit = fit_counts(counts({70, 38, 17, 10, 9, 3, 2, 1}));
  CHECK(near_abs(fit.rate, 172.0 / 150, 1e-12));
  REQUIRE(fit.size);
  CHECK(near_abs(*fit.size, 1.02459, 5e-6));
  CHECK(near_abs(fit.log_likelihood, -222.43715359843492, 1e-8));
  CHECK(near_abs(fit.poisson_log_likelihood, -242.809940821005, 1e-8));
  CHECK(near_abs(fit.dispersion, 295.4418604651162, 1e-9));
  CHECK(fit.p < 1e-10);
}

// Derived: a stream watched in halves has half the size in each; the rate is all by all.
TEST_CASE("times of different length") {
  const std::vector<Watched> watched = {{3, 0.5}, {0, 1}, {14, 2}, {1, 1.5}, {9, 0.5}};
  const CountFit fit = fit_counts(watched);
  CHECK(near_rel(fit.rate, 27 / 5.5, 1e-12));
  REQUIRE(fit.size);
  // At the maximum no size near it is more likely.
  const auto likelihood = [&](double size) {
    double total = 0;
    for (const Watched& w : watched) {
      const Demand law =
          Demand::negative_binomial(fit.rate * w.time, (fit.rate + fit.rate * fit.rate / size) * w.time);
      total += std::log(law.chance(static_cast<int>(w.count)));
    }
    return total;
  };
  CHECK(near_abs(likelihood(*fit.size), fit.log_likelihood, 1e-8));
  CHECK(likelihood(*fit.size * 1.02) < fit.log_likelihood);
  CHECK(likelihood(*fit.size * 0.98) < fit.log_likelihood);
}

// Derived: with n arrivals in T and the prior 1 / rate, the rate is gamma distributed with shape n; what comes in t is
// negative binomial with size n and mean n t / T.
TEST_CASE("what comes next of a Poisson stream is Bayes' theorem") {
  const std::vector<Watched> watched = {{1, 1}, {2, 1}, {1, 1}, {0, 1}, {2, 1}};
  const CountFit fit = fit_counts(watched);
  REQUIRE_FALSE(fit.size);
  const Demand next = fit.within(3);
  CHECK(near_rel(next.mean(), 3.6, 1e-9));
  // Of none: (T / (T + t))^n.
  CHECK(near_rel(next.chance(0), std::pow(5.0 / 8, 6), 1e-9));
  CHECK(near_rel(fit.rate_error(), std::sqrt(1.2 / 5), 1e-12));
}

TEST_CASE("counts that tell nothing") {
  CHECK_THROWS_AS(static_cast<void>(fit_counts(counts({1}))), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(fit_counts(counts({5}))), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(fit_counts(std::vector<Watched>{{1, 0}, {1, 1}})), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(fit_counts(std::vector<Watched>{{1, 1}, {-1, 1}})), std::domain_error);
}

TEST_SUITE_END();
