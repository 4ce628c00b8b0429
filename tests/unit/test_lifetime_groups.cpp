// Groups compared, and a law handed on to the rates.
#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

#include "mendworth/rates.hpp"
#include "support/history_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

// R package survival 3.5-3, data set imotor (W. Nelson): motor insulation at 170 and 190 degrees, hours.
const std::vector<LifeRecord> at_170 = {failed_at(1764), failed_at(2772),    failed_at(3444),
                                        failed_at(3542), failed_at(3780),    failed_at(4860),
                                        failed_at(5196), working_at(5448, 3)};
const std::vector<LifeRecord> at_190 = {failed_at(408, 2), failed_at(1344, 2), failed_at(1440),
                                        working_at(1680, 5)};

History two_groups() {
  History history;
  history.source_name = "motors.csv";
  history.unit = LifeUnit::hours;
  history.groups = {{"170", at_170}, {"190", at_190}};
  return history;
}

}  // namespace

TEST_SUITE_BEGIN("lifetime: groups");

// Published: R 4.2.2, survival 3.5-3: log-likelihoods of survreg(Surv(time, status) ~ 1), ~ set, and ~ set +
// strata(set).
TEST_CASE("likelihood ratios of two groups") {
  const Lifetime l = lifetime_of(two_groups());
  REQUIRE(l.groups.size() == 2);
  CHECK(l.groups[0].name == "170");
  REQUIRE(l.all.has_value());
  CHECK(l.all->failed_exact == 12);
  REQUIRE(l.comparison.has_value());
  CHECK(l.no_comparison_reason.empty());
  CHECK(near_rel(l.comparison->statistic, 7.75345173418, 1e-9));
  CHECK(l.comparison->degrees == 2);
  CHECK(near_rel(l.comparison->chance, 0.0207185495368, 1e-9));
  CHECK(near_rel(l.comparison->common_shape_statistic, 6.72295135422, 1e-9));
  CHECK(l.comparison->common_shape_degrees == 1);
  CHECK(near_rel(l.comparison->common_shape_chance, 0.00951799932735, 1e-9));
  // Derived: the logarithms of the medians are independent.
  REQUIRE(l.comparison->median_ratio.has_value());
  const LifeEstimate& ratio = *l.comparison->median_ratio;
  const LifeEstimate& a = l.groups[0].fit->median;
  const LifeEstimate& b = l.groups[1].fit->median;
  CHECK(near_rel(ratio.value, b.value / a.value, 1e-13));
  CHECK(near_rel(*ratio.error / ratio.value, std::hypot(*a.error / a.value, *b.error / b.value), 1e-12));
  CHECK(near_rel(ratio.normal_high / ratio.value, ratio.value / ratio.normal_low, 1e-12));
}

TEST_CASE("a group against itself") {
  History history = two_groups();
  history.groups[1].records = at_170;
  const Lifetime l = lifetime_of(history);
  REQUIRE(l.comparison.has_value());
  CHECK(near_abs(l.comparison->statistic, 0, 1e-10));
  CHECK(near_abs(l.comparison->common_shape_statistic, 0, 1e-10));
  CHECK(near_rel(l.comparison->median_ratio->value, 1, 1e-13));
}

TEST_CASE("three groups with intervals and late watching") {
  History history = two_groups();
  history.groups.push_back({"180",
                            {failed_between(500, 900, 2), failed_between(900, 1300, 3),
                             failed_at(2000, 1, 700), working_at(2500, 3, 700)}});
  const Lifetime l = lifetime_of(history);
  REQUIRE(l.comparison.has_value());
  CHECK(l.comparison->degrees == 4);
  CHECK(l.comparison->common_shape_degrees == 2);
  CHECK_FALSE(l.comparison->median_ratio.has_value());
  // One shape is less free than a shape each.
  CHECK(l.comparison->common_shape_statistic <= l.comparison->statistic);
  CHECK(l.comparison->common_shape_statistic > 0);
}

TEST_CASE("no comparison without a law for each") {
  History history = two_groups();
  history.groups[1].records = {working_at(500, 4)};
  const Lifetime l = lifetime_of(history);
  CHECK_FALSE(l.comparison.has_value());
  CHECK(l.no_comparison_reason == "The comparison needs a law for each group, and '190' has none.");
  CHECK(l.all->fit.has_value());
  const Lifetime one = lifetime_of(history_of(at_170));
  CHECK_FALSE(one.all.has_value());
  CHECK(one.no_comparison_reason.empty());
}

TEST_CASE("a rates entry is read back and carries the fit's uncertainty") {
  Lifetime l = lifetime_of(two_groups());
  l.source_name = "motors \"B\"\\\t2026.csv";
  l.part = "winding";
  const WeibullFit& fit = *l.groups[0].fit;
  RateBook book;
  overlay_rates(book, rates_entry(l.groups[0], l, "motor-winding-170"), "test.toml");
  REQUIRE(book.lives.count("motor-winding-170") == 1);
  const LifeClass& entry = book.lives.at("motor-winding-170");
  CHECK(entry.source ==
        "7 failed and 3 still working in motors \"B\"\\ 2026.csv, part winding, group 170: Weibull law of "
        "maximum "
        "likelihood");
  const LifePrior& prior = entry.life;
  CHECK(prior.unit == LifeUnit::hours);
  CHECK(near_rel(prior.shape.base(), fit.shape.value, 1e-5));
  // Derived: the prior takes ln(rated life) and ln(shape) as independent, and ln(life at failed share F) =
  // ln(rated) + (ln(-ln(1 - F)) - ln(-ln(1 - failed_at_rated)))/shape.
  const double life = std::log(prior.life_spread);
  const double shape = std::log(prior.shape_spread);
  const double rated = std::log(-std::log1p(-prior.failed_at_rated));
  struct Wanted {
    double failed;
    const LifeEstimate& estimate;
  };
  for (const Wanted& wanted :
       {Wanted{0.5, fit.median}, Wanted{0.1, fit.b10}, Wanted{-std::expm1(-1.0), fit.scale}}) {
    const double drop = (std::log(-std::log1p(-wanted.failed)) - rated) / prior.shape.base();
    CHECK(near_rel(prior.rated_life.base() * std::exp(drop), wanted.estimate.value, 1e-4));
    CHECK(near_rel(std::hypot(life, drop * shape), *wanted.estimate.error / wanted.estimate.value, 2e-3));
  }
}

TEST_CASE("what no rates entry can hold") {
  const Lifetime l = lifetime_of(history_of(at_170));
  for (const char* name : {"", "two words", "a.b", "caf\xC3\xA9", "x]"}) {
    CHECK_THROWS_AS(static_cast<void>(rates_entry(l.groups[0], l, name)), std::invalid_argument);
  }
  const Lifetime none = lifetime_of(history_of({working_at(5)}));
  CHECK_THROWS_AS(static_cast<void>(rates_entry(none.groups[0], none, "x")), std::invalid_argument);
  const Lifetime steep = lifetime_of(history_of({failed_at(1000), failed_at(1001)}));
  CHECK_THROWS_AS(static_cast<void>(rates_entry(steep.groups[0], steep, "x")), std::invalid_argument);
}

TEST_SUITE_END();
