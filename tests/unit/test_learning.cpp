#include "numeric/learning.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>

#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_rel;

TEST_SUITE_BEGIN("learning");

TEST_CASE("each doubling multiplies the time by the rate") {
  for (const double rate : {0.7, 0.85, 0.95}) {
    CHECK(learning_factor(1, rate, 0) == 1);
    double expected = 1;
    for (int n = 2; n <= 1 << 20; n *= 2) {
      expected *= rate;
      CHECK(near_rel(learning_factor(n, rate, 0), expected, 1e-13));
    }
  }
}

TEST_CASE("no learning at rate 1, and never below the floor") {
  CHECK(learning_factor(1000, 1, 0) == 1);
  CHECK(learning_factor(1000, 0.8, 0.6) == 0.6);
  CHECK(learning_factor(2, 0.8, 0.6) > 0.79);
  CHECK(learning_factor(2, 0.8, 1) == 1);
}

TEST_CASE("what cannot be a repetition, a rate or a floor is refused") {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  for (const int bad : {0, -1}) CHECK_THROWS_AS((void)learning_factor(bad, 0.8, 0), std::domain_error);
  for (const double bad : {0.0, 1.01, nan})
    CHECK_THROWS_AS((void)learning_factor(1, bad, 0), std::domain_error);
  for (const double bad : {-0.1, 1.1, nan})
    CHECK_THROWS_AS((void)learning_factor(1, 0.8, bad), std::domain_error);
}

TEST_SUITE_END();
