#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <random>
#include <vector>

#include "answers/spare_worth.hpp"
#include "numeric/poisson_stream.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

TEST_CASE("discounted_event: without discounting the chance of k events by a time") {
  // P(N >= 1) = 1 - exp(-1), P(N >= 2) = 1 - 2 exp(-1) for a mean of 1: Poisson, by hand.
  CHECK(near_abs(discounted_event(1, 0.5, 0.0, 2.0), 1 - std::exp(-1.0), 1e-12));
  CHECK(near_abs(discounted_event(2, 0.5, 0.0, 2.0), 1 - 2 * std::exp(-1.0), 1e-12));
  CHECK(discounted_event(1, 0.5, 0.0, 0.0) == 0.0);
  CHECK_THROWS_AS((void)discounted_event(0, 0.5, 0.0, 1.0), std::domain_error);
  CHECK_THROWS_AS((void)discounted_event(1, 0.0, 0.0, 1.0), std::domain_error);
  CHECK_THROWS_AS((void)discounted_event(1, 0.5, -0.6, 1.0), std::domain_error);
}

TEST_CASE("discounted_event: the mean over simulated times") {
  std::mt19937_64 engine(7);
  std::exponential_distribution<double> wait(1.3);
  for (const int k : {1, 3, 6}) {
    constexpr int runs = 400'000;
    const double growth = std::log(1.05);
    double sum = 0, squares = 0;
    for (int i = 0; i < runs; ++i) {
      double t = 0;
      for (int n = 0; n < k; ++n) t += wait(engine);
      const double worth = t <= 3.0 ? std::exp(-growth * t) : 0.0;
      sum += worth;
      squares += worth * worth;
    }
    const double mean = sum / runs;
    const double error = std::sqrt((squares / runs - mean * mean) / runs);
    CHECK(near_abs(discounted_event(k, 1.3, growth, 3.0), mean, 5 * error));
  }
}

TEST_CASE("levelled: steps never rise, the total stays, and steps keep within their limits") {
  // Steps 1, 3, 2: the first two are pooled to 2, 2, and the third stays.
  const WorthCurve curve = levelled({0, 1, 4, 6}, 0, 10);
  REQUIRE(curve.size() == 4);
  CHECK(near_abs(curve[1], 2, 1e-12));
  CHECK(near_abs(curve[2], 4, 1e-12));
  CHECK(near_abs(curve[3], 6, 1e-12));
  // Limits: no step above 1.5, none below 0.25.
  const WorthCurve limited = levelled({0, 3, 3.1, 3.1}, 0.25, 1.5);
  CHECK(near_abs(limited[1], 1.5, 1e-12));
  CHECK(near_abs(limited[3] - limited[2], 0.25, 1e-12));
  CHECK(levelled({0}, 0, 1) == WorthCurve{0});

  std::mt19937_64 engine(3);
  std::normal_distribution<double> noise(0.2, 1.0);
  for (int trial = 0; trial < 200; ++trial) {
    WorthCurve rough{0};
    for (int k = 0; k < 12; ++k) rough.push_back(rough.back() + noise(engine));
    const WorthCurve smooth = levelled(rough, 0, 5);
    double last = 5;
    for (std::size_t k = 1; k < smooth.size(); ++k) {
      const double step = smooth[k] - smooth[k - 1];
      CHECK(step <= last + 1e-12);
      CHECK(step >= -1e-12);
      last = step;
    }
  }
}
