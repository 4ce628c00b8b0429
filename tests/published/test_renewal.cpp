// Renewals simulated with our own random blocks and conditional quantiles, against published and computed
// renewal functions. What is under test is the chain block -> uniform -> Weibull life -> failure times.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "numeric/discount.hpp"
#include "numeric/random.hpp"
#include "numeric/weibull.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;
using mendworth::test::published::near_rel;

TEST_SUITE_BEGIN("published: renewals");

namespace {

constexpr std::uint64_t futures = 200000;

// Calls `failed(time)` for each failure until `horizon`, the first item being of the given age.
template <typename Failed>
void simulate_future(const RandomBlocks& blocks, std::uint64_t future, const WeibullLaw& law, double age,
                     double horizon, Failed failed) {
  double time = 0;
  for (std::uint64_t index = 0;; ++index) {
    for (const double u : blocks(Stream::new_lives, future, index)) {
      time += conditional_quantile(law, age, u) - age;
      age = 0;
      if (time > horizon) return;
      failed(time);
    }
  }
}

struct Mean {
  double value = 0, standard_error = 0;
};

// Mean number of failures up to each of the rising times.
std::vector<Mean> mean_renewals(std::uint64_t seed, const WeibullLaw& law, double age,
                                const std::vector<double>& times) {
  std::vector<double> sums(times.size()), squares(times.size());
  const RandomBlocks blocks(seed);
  for (std::uint64_t future = 0; future < futures; ++future) {
    std::size_t place = 0;
    int count = 0;
    const auto pass = [&](double until) {
      for (; place < times.size() && times[place] < until; ++place) {
        sums[place] += count;
        squares[place] += count * count;
      }
    };
    simulate_future(blocks, future, law, age, times.back(), [&](double time) {
      pass(time);
      ++count;
    });
    pass(times.back() + 1);
  }
  std::vector<Mean> means;
  for (std::size_t i = 0; i < times.size(); ++i) {
    const double mean = sums[i] / futures;
    means.push_back({mean, std::sqrt((squares[i] / futures - mean * mean) / futures)});
  }
  return means;
}

void check_renewals(std::uint64_t seed, const WeibullLaw& law, double age, const std::vector<double>& times,
                    const std::vector<double>& expected, double rounding) {
  const std::vector<Mean> found = mean_renewals(seed, law, age, times);
  for (std::size_t i = 0; i < times.size(); ++i) {
    CAPTURE(law.shape);
    CAPTURE(times[i]);
    CHECK(near_abs(found[i].value, expected[i], 4 * found[i].standard_error + rounding));
  }
}

}  // namespace

// Published: H. C. Tijms, A First Course in Stochastic Models, Wiley 2003, table 8.1.1, p. 312: renewals of a
// Weibull life with mean 1 and squared coefficient of variation 0.25 or 2, to 4 digits. The shapes solve
// Gamma(1 + 2/k)/Gamma(1 + 1/k)^2 - 1 for those.
TEST_CASE("new parts of mean life 1") {
  struct Law {
    double variation, shape;
    std::vector<double> times, renewals;
  };
  const std::vector<Law> laws = {
      {0.25, 2.1013490947, {0.2, 0.4, 0.8, 1.0, 1.5, 2.5}, {0.0261, 0.1087, 0.4141, 0.6091, 1.124, 2.125}},
      {2.0, 0.7209047424, {0.2, 0.5, 1.0, 2.0, 3.5, 7.5}, {0.3841, 0.7785, 1.357, 2.428, 3.969, 7.995}}};
  for (const Law& law : laws) {
    CHECK(near_rel(std::tgamma(1 + 2 / law.shape) / std::pow(std::tgamma(1 + 1 / law.shape), 2) - 1,
                   law.variation, 1e-9));
    check_renewals(1, {scale_from_mean(1, law.shape), law.shape}, 0, law.times, law.renewals, 5e-4);
  }
}

// Computed: power series of the renewal function (Smith and Leadbetter, Technometrics 5, 1963) in PARI/GP
// 2.15.2 with the age of the first item by quadrature, error below 1e-10; scale 1. `fails` is the chance of a
// first failure.
TEST_CASE("worn parts first, new ones after") {
  struct Start {
    double shape, age;
    std::vector<double> fails, renewals;
  };
  const std::vector<double> times = {0.25, 0.5, 1, 2, 3};
  const std::vector<Start> starts = {
      {0.5,
       0.5,
       {0.146934223579, 0.253898193920, 0.404073588516, 0.582734282922, 0.687678418546},
       {0.20339271940, 0.40196371641, 0.77283280838, 1.44708536548, 2.07065365218}},
      {1.5,
       1,
       {0.328030607208, 0.567043192240, 0.839333923163, 0.984946615400, 0.999088118034},
       {0.34515684731, 0.65402433603, 1.22670293695, 2.33507622720, 3.44256507216}},
      {2.5,
       0.5,
       {0.266818939276, 0.560985705399, 0.924142542983, 0.999939042947, 0.999999999867},
       {0.26898323383, 0.58626210036, 1.17419607232, 2.29307584390, 3.41952981604}}};
  for (const Start& start : starts) {
    const WeibullLaw law{1, start.shape};
    for (std::size_t i = 0; i < times.size(); ++i) {
      CHECK(near_rel(conditional_failure(law, start.age, times[i]), start.fails[i], 1e-11));
    }
    check_renewals(2, law, start.age, times, start.renewals, 0);
  }
}

// Computed: n-fold convolution of the same series in PARI/GP 2.15.2, error below 1e-12: shape 2, scale 1,
// time 2.
TEST_CASE("how many pieces are used up") {
  constexpr std::array<double, 6> chances = {0.018315638889, 0.323799954231, 0.443919943555,
                                             0.177453862473, 0.032779675680, 0.003478854613};
  std::array<double, 6> counts = {};
  const RandomBlocks blocks(3);
  for (std::uint64_t future = 0; future < futures; ++future) {
    std::size_t count = 0;
    simulate_future(blocks, future, {1, 2}, 0, 2, [&](double) { ++count; });
    if (count < counts.size()) counts[count] += 1;
  }
  for (std::size_t n = 0; n < counts.size(); ++n) {
    const double error = std::sqrt(chances[n] * (1 - chances[n]) / futures);
    CAPTURE(n);
    CHECK(near_abs(counts[n] / futures, chances[n], 4 * error));
  }
}

// Derived: failures at a constant rate 0.7 a year, each discounted at 3 % a year over 5 years:
// (0.7/ln 1.03) (1 - 1.03^-5) = 3.2536451.
TEST_CASE("discounted failures at a constant rate") {
  double sum = 0;
  double square = 0;
  const RandomBlocks blocks(4);
  for (std::uint64_t future = 0; future < futures; ++future) {
    double cost = 0;
    simulate_future(blocks, future, {1 / 0.7, 1}, 0, 5,
                    [&](double time) { cost += discount_factor(0.03, time); });
    sum += cost;
    square += cost * cost;
  }
  const double mean = sum / futures;
  CHECK(near_abs(mean, 3.2536451, 4 * std::sqrt((square / futures - mean * mean) / futures)));
}

TEST_SUITE_END();
