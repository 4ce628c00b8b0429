#include "numeric/distributions.hpp"
#include "numeric/sampler.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

TEST_SUITE_BEGIN("sampler");

namespace {

const std::vector<double> shares = {1e-12, 1e-9, 1e-6,  1e-4,     1e-3,     0.01,     0.05,
                                    0.1,   0.2,  0.25,  0.5,      0.75,     0.8,      0.9,
                                    0.95,  0.99, 0.999, 1 - 1e-6, 1 - 1e-9, 1 - 1e-12};

double mean_of(const Sampler& sampler) {
  // Midpoints of the shares; the ends of a beta law, where its quantile is steep, weigh too little to matter.
  constexpr int count = 1000000;
  double sum = 0;
  for (int i = 0; i < count; ++i) sum += sampler((i + 0.5) / count);
  return sum / count;
}

}  // namespace

TEST_CASE("fixed, uniform and triangular draws are the exact quantiles") {
  for (const Quantity& q :
       {Quantity::exactly(7), Quantity::between(-2, 5), Quantity::three_point(1, 2, 9, Spread::triangular),
        Quantity::three_point(1, 1, 9, Spread::triangular),
        Quantity::three_point(1, 9, 9, Spread::triangular)}) {
    const Sampler sampler(q);
    for (const double u : shares) CHECK(near_abs(sampler(u), q.quantile(u), 1e-14));
  }
}

TEST_CASE("beta draws keep to 1e-4 of the range for every mode, far into the tails") {
  for (int k = 0; k <= 40; ++k) {
    const double mode = k / 40.0;
    const Quantity q = Quantity::three_point(0, mode, 1);
    const Sampler sampler(q);
    double worst = 0;
    for (const double u : shares) worst = std::max(worst, std::abs(sampler(u) - q.quantile(u)));
    for (int i = 0; i < 500; ++i) {
      const double u = (i + 0.37) / 500;
      worst = std::max(worst, std::abs(sampler(u) - q.quantile(u)));
    }
    CAPTURE(mode);
    CHECK(worst < 1e-4);
  }
}

TEST_CASE("beta draws keep the mean to 1e-6 of the range") {
  for (const double mode : {0.0, 0.03, 0.2, 0.5, 0.9, 1.0}) {
    const Quantity q = Quantity::three_point(0, mode, 1);
    CAPTURE(mode);
    CHECK(near_abs(mean_of(Sampler(q)), q.base(), 1e-6));
  }
}

TEST_CASE("draws never fall as u rises, and stay within the range") {
  for (const Quantity& q :
       {Quantity::three_point(3, 4, 11), Quantity::three_point(3, 3, 11), Quantity::three_point(3, 11, 11),
        Quantity::between(3, 11), Quantity::three_point(3, 4, 11, Spread::triangular)}) {
    const Sampler sampler(q);
    bool rises = true;
    double last = 3;
    for (int i = 0; i < 100000; ++i) {
      const double x = sampler((i + 0.5) / 100000);
      rises = rises && x >= last;
      last = x;
    }
    CHECK(rises);
    CHECK(last <= 11);
    CHECK(sampler(0x1p-53) >= 3);
    CHECK(sampler(1 - 0x1p-53) <= 11);
    CHECK(sampler(1 - 0x1p-53) > 10.9);
  }
}

// Published algorithm: M. J. Wichura, "Algorithm AS 241: the percentage points of the normal distribution",
// Applied Statistics 37 (1988), as in Python's statistics.NormalDist().inv_cdf, which printed the constants.
TEST_CASE("normal quantile") {
  CHECK(normal_quantile(0.5) == 0);
  CHECK(near_abs(normal_quantile(0.975), 1.959963984540054, 1e-14));
  CHECK(near_abs(normal_quantile(0.95), 1.6448536269514722, 1e-14));
  for (const double u : {1e-300, 1e-16, 1e-5, 0.02, 0.3, 0.77, 0.9999}) {
    // Derived: the distribution function, from the complementary error function, undoes it.
    CHECK(near_abs(std::erfc(-normal_quantile(u) / std::sqrt(2.0)) / 2 / u, 1, 1e-11));
  }
  for (const double bad : {0.0, 1.0, -0.5, std::nan("")}) {
    CHECK_THROWS_AS((void)normal_quantile(bad), std::domain_error);
  }
}

TEST_SUITE_END();
