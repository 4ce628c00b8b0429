// Groups compared, and a law handed on to the rates.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
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
  const char* reason = "The comparison needs a law for each group, and '190' has none.";
  history.groups[1].records = {failed_at(500, 4)};
  const Lifetime l = lifetime_of(history);
  CHECK_FALSE(l.comparison.has_value());
  CHECK(l.no_comparison_reason == reason);
  CHECK(l.all->fit.has_value());
  // Without failures only two can be compared, one of which has a law.
  history.groups[1].records = {working_at(500, 4)};
  history.groups.push_back({"180", at_170});
  CHECK(lifetime_of(history).no_comparison_reason == reason);
  history.groups = {{"190", {working_at(500, 4)}}, {"170", {working_at(700)}}};
  CHECK(lifetime_of(history).no_comparison_reason == reason);
  const Lifetime one = lifetime_of(history_of(at_170));
  CHECK_FALSE(one.all.has_value());
  CHECK(one.no_comparison_reason.empty());
}

namespace {

struct Pieces {
  double age, count;
};

// Twice the log-likelihood of exact failures among pieces worked or failed at `ages`, the scale eliminated:
// n ln(shape) + n ln(n / sum(age^shape)) - n + (shape - 1) sum(ln failure), greatest over the shape by a grid
// that is narrowed around its best place.
double twice_greatest(const std::vector<LifeRecord>& failing, const std::vector<Pieces>& working,
                      double ratio) {
  double failures = 0, log_ages = 0;
  std::vector<Pieces> ages;
  for (const LifeRecord& record : failing) {
    ages.push_back({record.worked_at, record.weight});
    if (record.working()) continue;
    failures += record.weight;
    log_ages += record.weight * std::log(record.worked_at);
  }
  for (const Pieces& piece : working) ages.push_back({piece.age / ratio, piece.count});
  const auto value = [&](double shape) {
    double sum = 0;
    for (const Pieces& piece : ages) sum += piece.count * std::pow(piece.age, shape);
    return failures * (std::log(shape) + std::log(failures / sum) - 1) + (shape - 1) * log_ages;
  };
  double low = 0.01, high = 20, best = low;
  while (high - low > 1e-9) {
    const double step = (high - low) / 100;
    for (int i = 0; i <= 100; ++i) {
      if (value(low + i * step) > value(best)) best = low + i * step;
    }
    low = std::max(low, best - step);
    high = best + step;
  }
  return 2 * value(best);
}

History failure_free_first(const std::vector<LifeRecord>& working, const std::vector<LifeRecord>& failing) {
  History history;
  history.source_name = "lives.csv";
  history.groups = {{"sealed", working}, {"open", failing}};
  return history;
}

double ratio_limit(const std::vector<LifeRecord>& working, const std::vector<LifeRecord>& failing,
                   double confidence = 0.95) {
  LifetimeSettings settings;
  settings.confidence = confidence;
  const Lifetime l = lifetime_of(failure_free_first(working, failing), settings);
  REQUIRE(l.comparison.has_value());
  REQUIRE(l.comparison->failure_free.has_value());
  return l.comparison->failure_free->median_ratio_at_least;
}

// The limit is the ratio that is just not rejected: with the failure-free ages divided by it, the statistic
// of likeness, which comes from fits of the whole records, is the quantile, -2 ln(1 - confidence).
double statistic_at_limit(std::vector<LifeRecord> working, const std::vector<LifeRecord>& failing) {
  const double limit = ratio_limit(working, failing);
  REQUIRE(limit > 0);
  for (LifeRecord& record : working) {
    record.worked_at /= limit;
    record.first_seen /= limit;
  }
  return lifetime_of(failure_free_first(working, failing)).comparison->statistic;
}

const double quantile_95 = -2 * std::log(0.05);

}  // namespace

TEST_CASE("a group without failures against one with failures") {
  const std::vector<LifeRecord> sealed = {working_at(5000, 4), working_at(3000, 3)};
  const Lifetime l = lifetime_of(failure_free_first(sealed, at_170));
  REQUIRE(l.comparison.has_value());
  CHECK(l.no_comparison_reason.empty());
  const GroupComparison& c = *l.comparison;
  CHECK_FALSE(c.median_ratio.has_value());
  REQUIRE(c.failure_free.has_value());
  CHECK(c.failure_free->group == 0);

  // Derived: brute force.
  const std::vector<Pieces> pieces = {{5000, 4}, {3000, 3}};
  const double alone = twice_greatest(at_170, {}, 1);
  const double statistic = alone - twice_greatest(at_170, pieces, 1);
  CHECK(near_rel(c.statistic, statistic, 1e-9));
  CHECK(c.common_shape_statistic == c.statistic);
  CHECK(c.degrees == 2);
  CHECK(c.common_shape_degrees == 1);
  CHECK(near_rel(c.chance, std::exp(-statistic / 2), 1e-9));
  CHECK(c.common_shape_chance < c.chance);
  double low = 0.01, high = 100;
  for (int i = 0; i < 60; ++i) {
    const double middle = std::sqrt(low * high);
    (alone - twice_greatest(at_170, pieces, middle) > quantile_95 ? low : high) = middle;
  }
  CHECK(near_rel(c.failure_free->median_ratio_at_least, low, 1e-7));

  // The order in the file decides nothing but the place.
  History turned = failure_free_first(sealed, at_170);
  std::swap(turned.groups[0], turned.groups[1]);
  const Lifetime other = lifetime_of(turned);
  CHECK(other.comparison->failure_free->group == 1);
  CHECK(near_rel(other.comparison->failure_free->median_ratio_at_least, low, 1e-7));
  CHECK(near_rel(other.comparison->statistic, c.statistic, 1e-10));
}

// Derived: many failures at hand fix the law, so the limit tends to that of a known law: sum(age^shape) over
// the unfailed pieces is 3 scale^shape of theirs at 95 %, -ln(0.05) exactly.
TEST_CASE("limit of the ratio against a law that is all but known") {
  std::vector<LifeRecord> failing;
  constexpr int many = 20'000;
  for (int i = 0; i < many; ++i) {
    failing.push_back(failed_at(1000 * std::sqrt(-std::log((i + 0.5) / many))));
  }
  const double expected = std::sqrt(12 * 0.81 / -std::log(0.05));
  CHECK(near_rel(ratio_limit({working_at(900, 12)}, failing), expected, 2e-3));
  // More different ages than are kept apart in the search.
  CHECK(near_rel(statistic_at_limit({working_at(900, 12)}, failing), quantile_95, 1e-4));
}

TEST_CASE("limit of the ratio with intervals, late watching, and pieces hardly watched") {
  const std::vector<LifeRecord> mixed = {failed_between(500, 900, 2), failed_between(0, 1300, 3),
                                         failed_at(2000, 1, 700), working_at(2500, 3, 700)};
  CHECK(near_abs(statistic_at_limit({working_at(2000, 5), working_at(2600, 2, 400)}, mixed), quantile_95,
                 1e-6));
  CHECK(near_abs(statistic_at_limit({working_at(1e-3)}, at_170), quantile_95, 1e-6));
  CHECK(near_abs(statistic_at_limit({working_at(1e6, 1e4)}, at_170), quantile_95, 1e-6));
  // Seen once, never under watch: nothing is known of them.
  CHECK(ratio_limit({working_at(2000, 5, 2000)}, mixed) == 0);
  CHECK(ratio_limit({working_at(0, 5)}, at_170) == 0);
  // Inspections only, each piece seen once: were age without meaning (shape 0), 6 of 12 pieces would have
  // failed here and none of 1 there, which is likely enough; none of 60 is not.
  const std::vector<LifeRecord> once = {failed_between(0, 500, 1), working_at(500, 4),
                                        failed_between(0, 900, 5), working_at(900, 2)};
  CHECK(ratio_limit({working_at(500, 1)}, once) == 0);
  CHECK(near_abs(statistic_at_limit({working_at(500, 60)}, once), quantile_95, 1e-6));
}

TEST_CASE("limit of the ratio rises with what is watched and falls with confidence") {
  double last = 0;
  for (const double pieces : {1.0, 2.0, 5.0, 12.0, 100.0}) {
    const double limit = ratio_limit({working_at(3000, pieces)}, at_170);
    CHECK(limit > last);
    last = limit;
  }
  CHECK(ratio_limit({working_at(6000, 5)}, at_170) > ratio_limit({working_at(3000, 5)}, at_170));
  last = 1e300;
  for (const double confidence : {0.5, 0.8, 0.9, 0.95, 0.99, 0.999}) {
    const double limit = ratio_limit({working_at(5000, 5)}, at_170, confidence);
    CHECK(limit < last);
    last = limit;
    // The limit is above 1 where likeness is rejected.
    const Lifetime l = lifetime_of(failure_free_first({working_at(5000, 5)}, at_170));
    CHECK((limit > 1) == (l.comparison->chance < 1 - confidence));
  }
}

TEST_CASE("a rates entry counts every failure, however it was seen") {
  Lifetime from;
  from.source_name = "record.csv";
  const GroupLifetime group = lifetime_of_group(
      {failed_at(3), failed_at(9, 2), failed_between(4, 6, 3), failed_between(0, 7, 4), working_at(5, 8)});
  CHECK(group.failed_before + group.failed_between == 7);
  CHECK(rates_entry(group, from, "key").find("10 failed and 8 still working") != std::string::npos);
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
