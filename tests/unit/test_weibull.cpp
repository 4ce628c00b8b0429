#include "numeric/weibull.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

TEST_SUITE_BEGIN("weibull");

TEST_CASE("survival at the scale is 1/e whatever the shape") {
  for (const double shape : {0.5, 1.0, 2.0, 7.0}) {
    CHECK(near_rel(survival({250, shape}, 250), std::exp(-1), 1e-15));
    CHECK(survival({250, shape}, 0) == 1);
  }
}

TEST_CASE("shape 1 forgets its age") {
  // Derived: the exponential law, 1 - exp(-0.4).
  for (const double age : {0.0, 0.1, 1.0, 3.0, 50.0}) {
    CHECK(near_rel(conditional_failure({10, 1}, age, 4), -std::expm1(-0.4), 1e-14));
  }
}

TEST_CASE("conditional failure equals one less the ratio of survivals where that is accurate") {
  const WeibullLaw law{4, 2.3};
  for (const double age : {0.0, 0.5, 2.0, 5.0}) {
    for (const double further : {0.2, 1.0, 6.0}) {
      const double ratio = survival(law, age + further) / survival(law, age);
      CHECK(near_abs(conditional_failure(law, age, further), 1 - ratio, 1e-14));
    }
  }
}

TEST_CASE("conditional failure keeps its digits in both tails") {
  // Derived: shape 2, scale 1: H(a + x) - H(a) = 2 a x + x^2.
  CHECK(near_rel(conditional_failure({1, 2}, 1e-3, 1e-12), 2e-15 + 1e-24, 1e-13));
  CHECK(near_rel(conditional_failure({1, 2}, 1e6, 1e-12), -std::expm1(-2e-6), 1e-12));
  // Survival itself is exp(-10^12) at this age.
  CHECK(near_rel(conditional_failure({1, 2}, 1e6, 1e-6), -std::expm1(-2.0), 1e-9));
  CHECK(conditional_failure({1, 2}, 1e6, 0) == 0);
  CHECK(conditional_failure({1, 2}, 0, 1e200) == 1);
  CHECK(conditional_failure({1, 5}, 1e100, 1e100) == 1);
}

TEST_CASE("conditional quantile undoes conditional failure") {
  for (const double shape : {0.6, 1.0, 2.0, 4.5}) {
    const WeibullLaw law{3, shape};
    for (const double age : {0.0, 0.01, 1.0, 3.0, 9.0}) {
      double last = age;
      for (const double u : {1e-9, 1e-4, 0.1, 0.5, 0.9, 0.9999}) {
        const double at = conditional_quantile(law, age, u);
        CHECK(at >= last);
        last = at;
        // The age at failure is rounded: at age 9, hazard 140, that is 1e-13 of the chance.
        CHECK(near_abs(conditional_failure(law, age, at - age), u, 3e-13));
      }
    }
  }
}

TEST_CASE("an age far beyond the scale still fails just after it, not at infinity") {
  const double at = conditional_quantile({1e-200, 4}, 1e200, 0.5);
  CHECK(at == 1e200);
  const double soon = conditional_quantile({1, 3}, 1e4, 0.5);
  // Derived: x = ln 2/(3 a^2) to first order.
  CHECK(near_rel(soon - 1e4, std::numbers::ln2 / 3e8, 1e-3));
}

TEST_CASE("mean and median where they have a closed form") {
  // Derived: shape 1: mean = scale, median = scale ln 2; shape 2: mean = scale sqrt(pi)/2; shape 1/2: scale x
  // 2.
  CHECK(near_rel(weibull_mean({8, 1}), 8, 1e-15));
  CHECK(near_rel(weibull_median({8, 1}), 8 * std::numbers::ln2, 1e-15));
  CHECK(near_rel(weibull_mean({8, 2}), 4 * std::sqrt(std::numbers::pi), 1e-15));
  CHECK(near_rel(weibull_mean({8, 0.5}), 16, 1e-15));
}

TEST_CASE("scales from a rated life and from a mean undo survival and mean") {
  for (const double shape : {0.7, 1.0, 2.0, 5.0}) {
    const WeibullLaw rated{scale_from_rated_life(100000, 0.10, shape), shape};
    CHECK(near_rel(survival(rated, 100000), 0.90, 1e-14));
    CHECK(near_rel(weibull_mean({scale_from_mean(7, shape), shape}), 7, 1e-14));
  }
  // Derived: shape 1, F = 1 - 1/e: the rated life is the scale.
  CHECK(near_rel(scale_from_rated_life(5, 1 - std::exp(-1), 1), 5, 1e-14));
}

TEST_CASE("values outside the law are refused") {
  constexpr double inf = std::numeric_limits<double>::infinity();
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  for (const double bad : {0.0, -1.0, inf, nan}) {
    CHECK_THROWS_AS((void)survival({bad, 1}, 1), std::domain_error);
    CHECK_THROWS_AS((void)survival({1, bad}, 1), std::domain_error);
    CHECK_THROWS_AS((void)scale_from_mean(bad, 1), std::domain_error);
    CHECK_THROWS_AS((void)scale_from_rated_life(bad, 0.1, 1), std::domain_error);
    CHECK_THROWS_AS((void)scale_from_rated_life(1, 0.1, bad), std::domain_error);
  }
  for (const double bad : {-1.0, inf, nan}) {
    CHECK_THROWS_AS((void)survival({1, 1}, bad), std::domain_error);
    CHECK_THROWS_AS((void)conditional_failure({1, 1}, bad, 1), std::domain_error);
    CHECK_THROWS_AS((void)conditional_failure({1, 1}, 1, bad), std::domain_error);
    CHECK_THROWS_AS((void)conditional_quantile({1, 1}, bad, 0.5), std::domain_error);
  }
  for (const double bad : {0.0, 1.0, nan}) {
    CHECK_THROWS_AS((void)conditional_quantile({1, 1}, 0, bad), std::domain_error);
    CHECK_THROWS_AS((void)scale_from_rated_life(1, bad, 1), std::domain_error);
  }
  CHECK_THROWS_AS((void)weibull_mean({1, 0.001}), std::domain_error);
}

TEST_SUITE_END();
