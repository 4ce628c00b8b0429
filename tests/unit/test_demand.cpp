#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

#include "numeric/demand.hpp"
#include "numeric/order_quantity.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

TEST_SUITE_BEGIN("unit: demand");

// Derived: two pieces that fail with 0.5 and 0.2: none 0.5 x 0.8, both 0.5 x 0.2, one the rest.
TEST_CASE("pieces with chances of their own") {
  const std::vector<double> chances = {0.5, 0.2};
  const Demand demand = Demand::of_chances(chances);
  CHECK(near_rel(demand.chance(0), 0.4, 1e-14));
  CHECK(near_rel(demand.chance(1), 0.5, 1e-14));
  CHECK(near_rel(demand.chance(2), 0.1, 1e-14));
  CHECK(near_rel(demand.mean(), 0.7, 1e-14));
  CHECK(near_rel(demand.variance(), 0.25 + 0.16, 1e-13));
}

TEST_CASE("equal chances are the binomial law, sums of Poisson demands are Poisson") {
  const Demand one_by_one = Demand::of_chances(std::vector<double>(40, 0.3));
  const Demand binomial = Demand::binomial(40, 0.3);
  for (int k = 0; k <= 40; ++k) CHECK(near_rel(one_by_one.chance(k), binomial.chance(k), 1e-11));
  const Demand sum = Demand::sum(Demand::poisson(2), Demand::poisson(3.5));
  const Demand whole = Demand::poisson(5.5);
  for (int k = 0; k <= 30; ++k) CHECK(near_rel(sum.chance(k), whole.chance(k), 1e-11));
  CHECK(Demand::binomial(7, 1).chance(7) == 1.0);
  CHECK(Demand::binomial(7, 0).chance(0) == 1.0);
}

// Derived: k - D = (k - D)+ - (D - k)+.
TEST_CASE("what is short and what is left differ by the mean") {
  const Demand demand = Demand::negative_binomial(6, 15);
  CHECK(near_rel(demand.mean(), 6, 1e-11));
  CHECK(near_rel(demand.variance(), 15, 1e-9));
  for (int k = 0; k < 40; ++k)
    CHECK(near_abs(demand.expected_left(k) - demand.expected_shortage(k), k - 6.0, 1e-9));
}

TEST_CASE("mixtures, multiples and certain pieces") {
  const std::vector<Demand> ways = {Demand::binomial(10, 0.1), Demand::binomial(10, 0.9)};
  const Demand mixed = Demand::mixture(ways);
  CHECK(near_rel(mixed.mean(), 5, 1e-12));
  // Derived: within 0.9 each; between the means 1 and 9: 16.
  CHECK(near_rel(mixed.variance(), 16.9, 1e-12));
  const Demand boxes = Demand({0.5, 0.5}).times(4).shifted(3);
  CHECK(boxes.chance(3) == 0.5);
  CHECK(boxes.chance(7) == 0.5);
  CHECK(boxes.mean() == 5.0);
}

TEST_CASE("quantiles meet the chance that is wanted") {
  const Demand demand({0.25, 0.25, 0.5});
  CHECK(demand.quantile(0.25) == 0);
  CHECK(demand.quantile(0.26) == 1);
  CHECK(demand.quantile(0.5) == 1);
  CHECK(demand.quantile(0.51) == 2);
  CHECK(demand.quantile(0.9999) == 2);
}

TEST_CASE("out of range") {
  CHECK_THROWS_AS(Demand(std::vector<double>{}), std::domain_error);
  CHECK_THROWS_AS(Demand({0.0}), std::domain_error);
  CHECK_THROWS_AS(Demand({0.5, -0.1}), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(Demand::poisson(-1)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(Demand::poisson(std::nan(""))), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(Demand::binomial(3, 1.5)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(Demand::negative_binomial(3, 2)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(Demand().quantile(1)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(newsvendor(Demand(), 0, 0)), std::domain_error);
}

// Derived: the first arrival of a stream of m in a period lies until t with density m exp(-m t): up to the end
// (1 - exp(-m) (1 + m)) / m. Of all that arrive each lies half the period on average.
TEST_CASE("how long pieces lie until they are used") {
  const LyingTimes lying(Demand::poisson(3));
  CHECK(near_rel(lying.up_to(1), (1 - std::exp(-3.0) * 4) / 3, 1e-12));
  CHECK(near_rel(lying.up_to(1000), 1.5, 1e-12));
  CHECK(lying.up_to(0) == 0);
  CHECK(lying.up_to(-2) == 0);
}

TEST_CASE("what is wanted beyond the pieces at hand") {
  const Demand demand = Demand::poisson(6), beyond = demand.beyond(4);
  CHECK(near_rel(beyond.chance(0), demand.at_most(4), 1e-12));
  CHECK(near_rel(beyond.mean(), demand.expected_shortage(4), 1e-12));
  CHECK(demand.beyond(1000).mean() == 0);
}

TEST_SUITE_END();
