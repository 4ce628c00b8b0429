// What is said of one group: fits at the edge of what a record can tell, and honest refusals.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/history_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

bool begins(const std::string& text, const std::string& with) { return text.rfind(with, 0) == 0; }

void check_no_fit(const GroupLifetime& group, const std::string& reason_begins) {
  CHECK_FALSE(group.fit.has_value());
  CHECK_FALSE(group.test.has_value());
  CAPTURE(group.no_fit_reason);
  CHECK(begins(group.no_fit_reason, reason_begins));
  CHECK(group.no_fit_reason.back() == '.');
}

}  // namespace

TEST_SUITE_BEGIN("lifetime: fit");

// Published: derived from the exponential law: 10 units, 8,064 h each, no failure: mean >= 80,640/-ln(0.05) =
// 26,918.293 h.
TEST_CASE("no failures: the one-sided limit at the assumed shape") {
  LifetimeSettings settings;
  settings.assumed_shape = 1;
  const GroupLifetime group = lifetime_of_group({working_at(8064, 10)}, settings);
  check_no_fit(group, "No piece has failed");
  REQUIRE(group.limit.has_value());
  CHECK(near_rel(group.limit->scale_at_least, 26918.293, 1e-7));
  CHECK(near_rel(group.limit->median_at_least, 26918.293 * std::log(2.0), 1e-7));
  CHECK(near_rel(group.limit->b10_at_least, 26918.293 * -std::log(0.9), 1e-7));
  CHECK(group.curve.steps.empty());

  // Derived: shape 2 and late watching: (sum of age^2 - first_seen^2)/-ln(0.1), square root.
  settings.assumed_shape.reset();
  settings.confidence = 0.9;
  const GroupLifetime late = lifetime_of_group({working_at(50, 3), working_at(70, 2, 40)}, settings);
  REQUIRE(late.limit.has_value());
  CHECK(late.limit->assumed_shape == 2);
  CHECK(near_rel(late.limit->scale_at_least, std::sqrt((3 * 2500 + 2 * (4900 - 1600)) / -std::log(0.1)),
                 1e-12));
}

TEST_CASE("nothing watched, nothing said") {
  const GroupLifetime group = lifetime_of_group({working_at(0), working_at(30, 1, 30)});
  check_no_fit(group, "No piece has failed");
  CHECK_FALSE(group.limit.has_value());
}

TEST_CASE("every failure at one age: no shape is the best") {
  const std::string reason = "Every failure may have come at one age";
  check_no_fit(lifetime_of_group({failed_at(100, 3), working_at(60)}), reason);
  check_no_fit(lifetime_of_group({failed_at(100), working_at(50, 2), working_at(80)}), reason);
  check_no_fit(lifetime_of_group({failed_at(100)}), reason);
  check_no_fit(lifetime_of_group({failed_at(100, 2), working_at(100, 5)}), reason);
  check_no_fit(lifetime_of_group({failed_at(100, 2), failed_between(90, 110), working_at(100)}), reason);
  check_no_fit(lifetime_of_group({failed_at(100, 2), failed_between(90, 100)}), reason);
  check_no_fit(lifetime_of_group({failed_between(90, 110, 4), failed_between(80, 100), working_at(95)}),
               reason);
  check_no_fit(lifetime_of_group({failed_between(0, 100, 4), working_at(60)}), reason);
  check_no_fit(lifetime_of_group({failed_between(0, 100, 4), working_at(100)}), reason);
  const GroupLifetime group = lifetime_of_group({failed_at(100, 3), working_at(60)});
  // Derived: with r = 3 failures chi-squared(0.95; 8) = 15.50731306 (any table), S = 3 100^2 + 60^2.
  REQUIRE(group.limit.has_value());
  CHECK(near_rel(group.limit->scale_at_least, std::sqrt(2 * (30000 + 3600) / 15.50731306), 1e-9));
}

TEST_CASE("one failure among older survivors has a law") {
  // Published: the profile score 1/k + ln 54 = S1/S0 solved in 40 digits.
  const GroupLifetime one = lifetime_of_group({failed_at(54), working_at(500, 3)});
  REQUIRE(one.fit.has_value());
  CHECK(near_rel(one.fit->shape.value, 0.498677006243, 1e-11));
  CHECK(near_rel(one.fit->scale.value, 5578.61813995, 1e-11));
  CHECK(one.fit->shape.profile_low > 0);
  CHECK(one.fit->scale.profile_high < infinity);
  CHECK_FALSE(one.test.has_value());
  CHECK(lifetime_of_group({failed_at(100, 3), working_at(101)}).fit.has_value());
  CHECK(lifetime_of_group({failed_at(100, 3), failed_between(0, 90), working_at(60)}).fit.has_value());
}

TEST_CASE("failed before the first look") {
  check_no_fit(lifetime_of_group({failed_between(0, 50, 4), failed_between(0, 80)}),
               "Every piece had failed");
  CHECK_FALSE(lifetime_of_group({failed_between(0, 50, 4)}).limit.has_value());
  // Late watching: both failed in their first interval under watch.
  check_no_fit(lifetime_of_group({failed_between(20, 50, 4, 20), failed_between(60, 80, 1, 60)}),
               "Every piece had failed");
}

TEST_CASE("looked at once, and the older ones failed no more often") {
  const std::string reason = "Among the older pieces";
  check_no_fit(lifetime_of_group({failed_between(0, 50, 5), working_at(50, 5), failed_between(0, 90, 2),
                                  working_at(90, 8)}),
               reason);
  check_no_fit(lifetime_of_group({failed_between(0, 50, 5), working_at(50, 5), failed_between(0, 90, 5),
                                  working_at(90, 5)}),
               reason);
  const GroupLifetime wear = lifetime_of_group(
      {failed_between(0, 50, 5), working_at(50, 5), failed_between(0, 90, 6), working_at(90, 4)});
  REQUIRE(wear.fit.has_value());
  // Derived: two ages, two parameters: the law goes through both shares.
  CHECK(near_rel(wear.fit->shape.value, std::log(std::log(0.4) / std::log(0.5)) / std::log(90.0 / 50.0),
                 1e-10));
  // 5 of 10 and 6 of 10 cannot exclude that age does not matter.
  CHECK(wear.fit->shape.profile_low == 0);
  CHECK(wear.fit->scale.profile_high == infinity);
  CHECK(wear.fit->shape.profile_high < infinity);
}

TEST_CASE("late watching under which the shape runs off to 0") {
  // Found by simulation; each piece was first seen at some age and the earliest failed at once.
  check_no_fit(lifetime_of_group({working_at(140, 1, 54.015905697178795),
                                  failed_between(80, 100, 1, 15.930043173857234),
                                  failed_between(40, 60, 1, 26.348627188438506),
                                  failed_between(22.065579562441158, 40, 1, 22.065579562441158),
                                  failed_between(2.6166103230122775, 20, 1, 2.6166103230122775),
                                  working_at(140, 1, 40.461906438243801)}),
               "The likelihood has no maximum");
}

TEST_CASE("dead on arrival is outside the law") {
  const GroupLifetime group = lifetime_of_group({failed_at(0), failed_at(10), failed_at(20), working_at(30)});
  check_no_fit(group, "Some pieces failed at age 0");
  CHECK_FALSE(group.limit.has_value());
  REQUIRE(group.curve.steps.size() == 3);
  CHECK(group.curve.steps[0].working == 0.75);
}

TEST_CASE("pieces are counted by what is known of them") {
  const GroupLifetime group =
      lifetime_of_group({failed_at(10, 2), failed_between(4, 8, 3), failed_between(0, 6),
                         working_at(20, 5, 12), failed_between(4, 12, 1, 8)});
  CHECK(group.failed_exact == 2);
  CHECK(group.failed_between == 4);
  CHECK(group.failed_before == 1);
  CHECK(group.working == 5);
  CHECK(group.truncated == 6);
  // Derived: 2 x 10 + 3 x 6 + 3 + 5 x 8 + (10 - 8)
  CHECK(group.total_time == 83);
}

// Derived: with the shape of an exponential sample forced by symmetry there is none; but the scale given the
// shape has the closed form (sum of age^shape / failures)^(1/shape), and the score of the shape vanishes
// there.
TEST_CASE("the maximum satisfies the likelihood equations") {
  const GroupLifetime group =
      lifetime_of_group({failed_at(3), failed_at(7, 2), failed_at(19), working_at(11, 3), working_at(25)});
  REQUIRE(group.fit.has_value());
  const double shape = group.fit->shape.value;
  double s0 = 0, s1 = 0;
  const double ages[] = {3, 7, 7, 19, 11, 11, 11, 25};
  for (const double age : ages) {
    s0 += std::pow(age, shape);
    s1 += std::pow(age, shape) * std::log(age);
  }
  CHECK(near_rel(group.fit->scale.value, std::pow(s0 / 4, 1 / shape), 1e-13));
  const double mean_log = (std::log(3.0) + 2 * std::log(7.0) + std::log(19.0)) / 4;
  CHECK(near_rel(1 / shape + mean_log, s1 / s0, 1e-13));
}

TEST_CASE("profile limits lie where the likelihood ratio says") {
  LifetimeSettings settings;
  settings.confidence = 0.9;
  settings.times = {5, 200};
  const std::vector<LifeRecord> records = {failed_at(3), failed_at(7, 2), failed_between(9, 19),
                                           working_at(11, 3), working_at(25)};
  const GroupLifetime group = lifetime_of_group(records, settings);
  REQUIRE(group.fit.has_value());
  // ln L at any law, from the definition.
  const auto log_likelihood = [](double scale, double shape) {
    const auto h = [&](double t) { return std::pow(t / scale, shape); };
    const auto density = [&](double t) { return std::log(shape / t) + shape * std::log(t / scale) - h(t); };
    return density(3) + 2 * density(7) + std::log(std::exp(-h(9)) - std::exp(-h(19))) - 3 * h(11) - h(25);
  };
  CHECK(near_abs(group.fit->log_likelihood, log_likelihood(group.fit->scale.value, group.fit->shape.value),
                 1e-12));
  // The median kept, the best shape by golden section.
  const auto profile = [&](double median) {
    double low = 0.01, high = 10;
    const auto at = [&](double shape) {
      return log_likelihood(median / std::pow(std::log(2.0), 1 / shape), shape);
    };
    constexpr double golden = 0.6180339887498949;
    for (int i = 0; i < 80; ++i) {
      const double a = high - golden * (high - low);
      const double b = low + golden * (high - low);
      if (at(a) < at(b)) {
        low = a;
      } else {
        high = b;
      }
    }
    return at(low);
  };
  const double half = 2.705543454095404 / 2;  // chi-squared(0.90; 1), any table
  CHECK(near_abs(group.fit->log_likelihood - profile(group.fit->median.profile_low), half, 1e-8));
  CHECK(near_abs(group.fit->log_likelihood - profile(group.fit->median.profile_high), half, 1e-8));
  REQUIRE(group.fit->at_times.size() == 2);
  CHECK(group.fit->at_times[0].time == 5);
  for (const TimedShare& share : group.fit->at_times) {
    CHECK(share.working.profile_low <= share.working.value);
    CHECK(share.working.value <= share.working.profile_high);
    CHECK(share.working.profile_low >= 0);
    CHECK(share.working.profile_high <= 1);
  }
}

TEST_CASE("units far from 1 change nothing") {
  const GroupLifetime tiny = lifetime_of_group({failed_at(3e-200), failed_at(7e-200), working_at(9e-200)});
  const GroupLifetime plain = lifetime_of_group({failed_at(3), failed_at(7), working_at(9)});
  const GroupLifetime huge = lifetime_of_group({failed_at(3e200), failed_at(7e200), working_at(9e200)});
  REQUIRE((tiny.fit && plain.fit && huge.fit));
  CHECK(near_rel(tiny.fit->shape.value, plain.fit->shape.value, 1e-11));
  CHECK(near_rel(huge.fit->shape.profile_high, plain.fit->shape.profile_high, 1e-9));
  CHECK(near_rel(huge.fit->scale.value, 1e200 * plain.fit->scale.value, 1e-11));
}

// Derived: ages apart by a share e of themselves: the shape is about 1.2/e (the scatter of two logarithms).
TEST_CASE("ages that all but coincide") {
  const GroupLifetime group = lifetime_of_group({failed_at(1000), failed_at(1000.001)});
  REQUIRE(group.fit.has_value());
  CHECK(group.fit->shape.value > 1e6);
  CHECK(near_rel(group.fit->scale.value, 1000, 1e-5));
  CHECK(std::isfinite(*group.fit->scale.error));
}

TEST_CASE("test of fit: quiet for a Weibull record, loud for two kinds of parts in one") {
  std::vector<LifeRecord> weibull, mixed;
  for (int i = 0; i < 60; ++i) {
    // Quantiles of a law: as close to it as a record can be.
    const double u = (i + 0.5) / 60;
    weibull.push_back(failed_at(1000 * std::pow(-std::log1p(-u), 0.5)));
    mixed.push_back(failed_at((i % 2 == 0 ? 100 : 1000) * std::pow(-std::log1p(-u), 0.2)));
  }
  const GroupLifetime quiet = lifetime_of_group(weibull);
  const GroupLifetime loud = lifetime_of_group(mixed);
  REQUIRE((quiet.test && loud.test));
  CHECK(quiet.test->chance > 0.5);
  CHECK(loud.test->chance < 0.001);
  CHECK(quiet.test->statistic >= 0);
}

TEST_CASE("settings and records out of range") {
  LifetimeSettings settings;
  settings.confidence = 0.4;
  CHECK_THROWS_AS(static_cast<void>(lifetime_of_group({failed_at(1)}, settings)), std::invalid_argument);
  settings.confidence = 0.9999;
  CHECK_THROWS_AS(static_cast<void>(lifetime_of_group({failed_at(1)}, settings)), std::invalid_argument);
  settings = {};
  settings.times = {0};
  CHECK_THROWS_AS(static_cast<void>(lifetime_of_group({failed_at(1)}, settings)), std::invalid_argument);
  settings = {};
  for (const double shape : {-1.0, 0.0, infinity}) {
    settings.assumed_shape = shape;
    CHECK_THROWS_AS(static_cast<void>(lifetime_of_group({failed_at(1)}, settings)), std::invalid_argument);
  }
  CHECK_THROWS_AS(static_cast<void>(lifetime_of_group({})), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(lifetime_of({})), std::invalid_argument);
  for (const LifeRecord& wrong : {LifeRecord{5, 4, 0, 1}, LifeRecord{-1, 4, 0, 1}, LifeRecord{5, 5, 5, 1},
                                  LifeRecord{2, 4, 4, 1}, LifeRecord{1, 2, 0, 0}, LifeRecord{1, 2, 0, -1},
                                  LifeRecord{infinity, infinity, 0, 1}, LifeRecord{std::nan(""), 2, 0, 1},
                                  LifeRecord{1, std::nan(""), 0, 1}, LifeRecord{1, 2, 0, infinity}}) {
    CHECK_THROWS_AS(static_cast<void>(lifetime_of_group({wrong})), std::invalid_argument);
  }
}

TEST_SUITE_END();
