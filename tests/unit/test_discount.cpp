#include "numeric/discount.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

TEST_SUITE_BEGIN("discount");

TEST_CASE("discount factor by its definition") {
  CHECK(discount_factor(0.03, 0) == 1);
  CHECK(discount_factor(0, 17) == 1);
  CHECK(near_rel(discount_factor(0.25, 2), 0.64, 1e-15));
  CHECK(near_rel(discount_factor(-0.2, 1), 1.25, 1e-15));
  CHECK(near_rel(discount_factor(0.21, 0.5), 1 / 1.1, 1e-15));
}

TEST_CASE("nothing breaks as the rate goes to zero") {
  CHECK(capital_recovery(0, 4) == 0.25);
  for (const double rate : {1e-300, 1e-18, 1e-12, -1e-12}) {
    CHECK(near_rel(capital_recovery(rate, 4), 0.25, 1e-11));
  }
}

TEST_CASE("capital recovery returns the present cost it came from") {
  for (const double rate : {-0.03, 0.01, 0.07, 0.5}) {
    const double yearly = capital_recovery(rate, 6);
    double worth = 0;
    for (int year = 1; year <= 6; ++year) worth += yearly * discount_factor(rate, year);
    CHECK(near_abs(worth, 1, 1e-14));
  }
}

TEST_CASE("rates, times and results out of range are refused") {
  constexpr double inf = std::numeric_limits<double>::infinity();
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  for (const double bad : {-1.0, -2.0, inf, nan}) {
    CHECK_THROWS_AS((void)discount_factor(bad, 1), std::domain_error);
    CHECK_THROWS_AS((void)capital_recovery(bad, 1), std::domain_error);
  }
  for (const double bad : {-0.1, inf, nan}) {
    CHECK_THROWS_AS((void)discount_factor(0.03, bad), std::domain_error);
    CHECK_THROWS_AS((void)capital_recovery(0.03, bad), std::domain_error);
  }
  CHECK_THROWS_AS((void)capital_recovery(0.03, 0), std::domain_error);
  CHECK_THROWS_AS((void)discount_factor(-0.9999, 1e6), std::domain_error);
}

TEST_SUITE_END();
