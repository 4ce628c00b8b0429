// The distribution-free estimates, and the sums that make many ages cheap.
#include <doctest/doctest.h>

#include <cmath>
#include <iterator>
#include <stdexcept>
#include <vector>

#include "lifetime/gathered.hpp"
#include "lifetime/hazard_sums.hpp"
#include "lifetime/turnbull.hpp"
#include "numeric/distributions.hpp"
#include "support/history_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

TEST_SUITE_BEGIN("lifetime: curve");

// Derived by hand: 5 pieces; at 10 one of 5 fails, at 20 two of 3, at 30 the last.
TEST_CASE("product limit by hand") {
  const GroupLifetime group =
      lifetime_of_group({failed_at(10), working_at(10), failed_at(20, 2), failed_at(30)});
  const auto& steps = group.curve.steps;
  REQUIRE(steps.size() == 3);
  CHECK(steps[0].at_risk == 5);  // one that still worked at 10 was at risk at 10
  CHECK(near_abs(steps[0].working, 0.8, 1e-15));
  CHECK(near_abs(steps[0].error, 0.8 * std::sqrt(1.0 / (5 * 4)), 1e-15));
  CHECK(steps[1].at_risk == 3);
  CHECK(near_abs(steps[1].working, 0.8 / 3, 1e-15));
  CHECK(near_abs(steps[1].error, 0.8 / 3 * std::sqrt(1.0 / 20 + 2.0 / 3), 1e-15));
  CHECK(steps[1].low < steps[1].working);
  CHECK(steps[1].high > steps[1].working);
  CHECK(steps[2].working == 0);
  CHECK(steps[2].error == 0);
  CHECK(steps[2].low == 0);
  CHECK(steps[2].high == steps[1].high);
}

TEST_CASE("fractions of pieces leave no remainder") {
  const GroupLifetime group = lifetime_of_group({failed_at(1, 0.1), failed_at(2, 0.2), failed_at(3, 0.3)});
  REQUIRE(group.curve.steps.size() == 3);
  CHECK(group.curve.steps[2].working == 0);
  CHECK(near_abs(group.curve.steps[1].working, 0.5, 1e-14));
}

// Derived: for pieces looked at once the estimate is the isotonic regression of the shares failed (Ayer,
// Brunk, Ewing, Reid and Silverman, Annals of Mathematical Statistics 26, 1955). The wheels of
// tests/published/test_weibull_mle.cpp: 0/39, then 4/53 and 2/33 pooled to 6/86, 7/73, 5/30, 9/39 and 9/42
// pooled to 18/81, 6/13, 22/34 and 21/40 pooled to 43/74, 21/36.
TEST_CASE("pieces looked at once") {
  const std::vector<LifeRecord> records = turbine_wheels();
  const SurvivalCurve curve = lifetime_of_group(records).curve;
  CHECK(curve.by_intervals);
  struct Row {
    double time, failed;
  };
  constexpr Row rows[] = {{10, 6.0 / 86}, {18, 7.0 / 73},  {22, 5.0 / 30}, {26, 18.0 / 81},
                          {34, 6.0 / 13}, {38, 43.0 / 74}, {46, 21.0 / 36}};
  REQUIRE(curve.steps.size() == std::size(rows));
  for (std::size_t i = 0; i < std::size(rows); ++i) {
    CHECK(curve.steps[i].time == rows[i].time);
    CHECK(near_abs(curve.steps[i].working, 1 - rows[i].failed, 1e-7));
    CHECK(curve.steps[i].error == 0);
    CHECK(curve.steps[i].at_risk == 0);
  }
}

TEST_CASE("with exact lives alone, self-consistency leads to the product limit") {
  for (const double first_seen : {0.0, 3.0}) {
    const std::vector<LifeRecord> records = {
        failed_at(5), failed_at(8, 2, first_seen),   working_at(6),
        failed_at(9), working_at(12, 2, first_seen), failed_at(14, 1, 2 * first_seen)};
    const SurvivalCurve product = lifetime_of_group(records).curve;
    const SurvivalCurve consistent = lifetime::turnbull(records);
    REQUIRE(product.steps.size() == consistent.steps.size());
    for (std::size_t i = 0; i < product.steps.size(); ++i) {
      CHECK(product.steps[i].time == consistent.steps[i].time);
      CHECK(near_abs(product.steps[i].working, consistent.steps[i].working, 1e-7));
    }
  }
}

// Derived: intervals (0,2], (1,3], (2,4] have the innermost (1,2] and (2,3]; with masses p and 1 - p the
// likelihood is p 1 (1 - p), greatest at p = 1/2.
TEST_CASE("innermost intervals") {
  const SurvivalCurve curve =
      lifetime_of_group({failed_between(0, 2), failed_between(1, 3), failed_between(2, 4)}).curve;
  REQUIRE(curve.steps.size() == 2);
  CHECK(curve.steps[0].time == 2);
  CHECK(near_abs(curve.steps[0].working, 0.5, 1e-9));
  CHECK(near_abs(curve.steps[0].failed, 1.5, 1e-8));
  CHECK(curve.steps[1].time == 3);
  CHECK(curve.steps[1].working == 0);
  CHECK(curve.steps[1].high == 1);
}

TEST_CASE("many ages: the series give the sums") {
  std::vector<lifetime::LogAge> ages;
  for (int i = 0; i < 3000; ++i) ages.push_back({-0.01 * i, i % 7 == 3 ? -0.25 : 1.0 + i % 3});
  const lifetime::HazardSums sums(ages);
  for (const double shape : {1e-3, 0.03, 0.37, 0.84, 0.845, 1.0, 1.183, 1.184, 2.6, 17.0, 900.0}) {
    double sum = 0, first = 0, second = 0;
    for (const lifetime::LogAge& age : ages) {
      const double term = age.weight * std::exp(shape * age.x);
      sum += term;
      first += term * age.x;
      second += term * age.x * age.x;
    }
    const auto value = sums.at(shape);
    CHECK(near_rel(value.sum, sum, 1e-12));
    CHECK(near_rel(value.first, first, 1e-12));
    CHECK(near_rel(value.second, second, 1e-11));
  }
}

TEST_CASE("many ages: gathered ones keep what a likelihood sees") {
  lifetime::Observations seen;
  for (int i = 20000; i-- > 0;) seen.survivors.push_back({-0.0003 * i - 1e-5 * std::sin(i), 1.0 + i % 3});
  for (int i = 6000; i-- > 0;) seen.failures.push_back({-0.001 * i, 1.0});
  const lifetime::Observations few = lifetime::gathered(seen, 2.0);
  CHECK(few.survivors.size() < seen.survivors.size() / 10);
  const auto sum = [](const std::vector<lifetime::LogAge>& ages) {
    double total = 0;
    for (const lifetime::LogAge& age : ages) total += age.weight * std::exp(1.7 * age.x);
    return total;
  };
  CHECK(near_rel(sum(few.survivors), sum(seen.survivors), 1e-7));
  CHECK(near_rel(sum(few.failures), sum(seen.failures), 1e-7));
}

// Derived: all pieces of a cell of one age are of that age, whatever the cell's middle.
TEST_CASE("many ages: those that coincide stay where they are") {
  lifetime::Observations seen;
  for (int i = 6000; i-- > 0;) seen.survivors.push_back({-0.1 * (i / 60), 1.0});
  const lifetime::Observations few = lifetime::gathered(seen, 2.0);
  REQUIRE(few.survivors.size() == 200);
  for (int i = 0; i < 200; ++i)
    CHECK(near_abs(few.survivors[static_cast<std::size_t>(i)].x, -0.1 * (99 - i / 2), 1e-8));
}

TEST_CASE("observations rise by age, equal ones gathered") {
  const lifetime::Observations seen = lifetime::observe(
      {failed_at(20), failed_at(10, 2), working_at(40), failed_at(30), failed_at(10), working_at(25, 3)});
  const auto is = [](const lifetime::LogAge& found, double age, double pieces) {
    return near_abs(found.x, std::log(age / 40), 1e-14) && found.weight == pieces;
  };
  REQUIRE(seen.failures.size() == 3);
  CHECK(is(seen.failures[0], 10, 3));
  CHECK(is(seen.failures[1], 20, 1));
  CHECK(is(seen.failures[2], 30, 1));
  REQUIRE(seen.survivors.size() == 2);
  CHECK(is(seen.survivors[0], 25, 3));
  CHECK(is(seen.survivors[1], 40, 1));
}

// Published: any table of the normal and the chi-squared laws; digits by R 4.2.2, qnorm, qchisq, pchisq.
TEST_CASE("quantiles and tails") {
  CHECK(near_rel(normal_quantile(0.975), 1.959963984540054, 1e-14));
  CHECK(near_abs(normal_quantile(0.5), 0, 1e-16));
  CHECK(near_rel(normal_quantile(1e-10), -6.361340902404056, 1e-12));
  CHECK(near_rel(chi_squared_quantile(0.95, 1), 3.841458820694124, 1e-13));
  CHECK(near_rel(chi_squared_quantile(0.95, 2), -2 * std::log(0.05), 1e-13));
  CHECK(near_rel(chi_squared_tail(3.841458820694124, 1), 0.05, 1e-13));
  CHECK(chi_squared_tail(0, 3) == 1);
  CHECK_THROWS_AS(static_cast<void>(normal_quantile(1)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(chi_squared_tail(-1, 1)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(chi_squared_quantile(0.5, 0)), std::domain_error);
}

TEST_SUITE_END();
