// What must hold for any history.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <random>
#include <vector>

#include "lifetime/likelihood.hpp"
#include "support/history_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

constexpr unsigned trials = 200;

double uniform(std::mt19937& engine) { return (static_cast<double>(engine() >> 1U) + 0.5) * 0x1p-31; }

// Four to forty pieces of a law, seen exactly, between looks, or still working, some under watch late.
// `plain`: exact lives and survivors only.
std::vector<LifeRecord> random_records(unsigned seed, bool plain) {
  std::mt19937 engine(seed);
  const double shape = 0.5 + 3 * uniform(engine);
  const double stop = 0.3 + 2 * uniform(engine);
  const int pieces = 4 + static_cast<int>(36 * uniform(engine));
  std::vector<LifeRecord> records;
  while (static_cast<int>(records.size()) < pieces) {
    const double life = std::pow(-std::log(uniform(engine)), 1 / shape);
    const double age = stop * (0.5 + uniform(engine));
    const double kind = uniform(engine);
    const double seen = !plain && uniform(engine) < 0.2 ? 0.3 * uniform(engine) : 0;
    if (seen >= std::min(life, age)) continue;
    const double weight = 1 + std::floor(3 * uniform(engine));
    if (life > age) {
      records.push_back(working_at(age, weight, seen));
    } else if (plain || kind < 0.5) {
      records.push_back(failed_at(life, weight, seen));
    } else {
      const double look = 0.2;
      const double low = std::max(seen, look * std::floor(life / look));
      records.push_back(failed_between(low, look * std::floor(life / look) + look, weight, seen));
    }
  }
  return records;
}

}  // namespace

TEST_SUITE_BEGIN("property: lifetime");

TEST_CASE("another unit of age scales the lives and leaves the shape") {
  for (unsigned seed = 0; seed < trials; ++seed) {
    CAPTURE(seed);
    std::vector<LifeRecord> records = random_records(seed, false);
    const GroupLifetime before = lifetime_of_group(records);
    constexpr double unit = 8766;
    double exact = 0;
    for (LifeRecord& record : records) {
      if (record.exact()) exact += record.weight;
      record.worked_at *= unit;
      record.failed_by *= unit;
      record.first_seen *= unit;
    }
    const GroupLifetime after = lifetime_of_group(records);
    REQUIRE(before.fit.has_value() == after.fit.has_value());
    if (!before.fit) continue;
    CHECK(near_rel(after.fit->shape.value, before.fit->shape.value, 1e-9));
    CHECK(near_rel(after.fit->scale.value, unit * before.fit->scale.value, 1e-9));
    CHECK(near_rel(after.fit->b10.profile_low, unit * before.fit->b10.profile_low, 1e-6));
    CHECK(near_rel(after.fit->shape.profile_high, before.fit->shape.profile_high, 1e-6));
    CHECK(near_abs(after.fit->log_likelihood, before.fit->log_likelihood - exact * std::log(unit), 1e-8));
  }
}

TEST_CASE("a weight is so many rows") {
  for (unsigned seed = 0; seed < trials; ++seed) {
    CAPTURE(seed);
    const std::vector<LifeRecord> records = random_records(seed, false);
    std::vector<LifeRecord> rows;
    for (LifeRecord record : records) {
      const int pieces = static_cast<int>(record.weight);
      record.weight = 1;
      rows.insert(rows.begin(), static_cast<std::size_t>(pieces), record);
    }
    const GroupLifetime gathered = lifetime_of_group(records);
    const GroupLifetime single = lifetime_of_group(rows);
    REQUIRE(gathered.fit.has_value() == single.fit.has_value());
    REQUIRE(gathered.curve.steps.size() == single.curve.steps.size());
    for (std::size_t i = 0; i < single.curve.steps.size(); ++i) {
      CHECK(near_abs(gathered.curve.steps[i].working, single.curve.steps[i].working, 1e-6));
    }
    if (!single.fit) continue;
    CHECK(near_rel(gathered.fit->shape.value, single.fit->shape.value, 1e-10));
    CHECK(near_rel(gathered.fit->var_log_scale, single.fit->var_log_scale, 1e-8));
  }
}

TEST_CASE("narrow intervals tend to exact lives") {
  for (unsigned seed = 0; seed < trials; ++seed) {
    CAPTURE(seed);
    std::vector<LifeRecord> records = random_records(seed, true);
    const GroupLifetime exact = lifetime_of_group(records);
    if (!exact.fit) continue;
    for (LifeRecord& record : records) {
      if (!record.exact()) continue;
      record.failed_by *= 1 + 1e-7;
      record.worked_at *= 1 - 1e-7;
    }
    const GroupLifetime narrow = lifetime_of_group(records);
    REQUIRE(narrow.fit.has_value());
    CHECK(near_rel(narrow.fit->shape.value, exact.fit->shape.value, 1e-8));
    CHECK(near_rel(narrow.fit->scale.value, exact.fit->scale.value, 1e-8));
    CHECK(near_rel(narrow.fit->var_log_shape, exact.fit->var_log_shape, 1e-6));
  }
}

TEST_CASE("limits contain the estimate and widen with the confidence") {
  LifetimeSettings wide, tight;
  wide.times = tight.times = {0.4, 1.5};
  wide.confidence = 0.95;
  tight.confidence = 0.6;
  int fits = 0;
  for (unsigned seed = 0; seed < trials; ++seed) {
    CAPTURE(seed);
    const std::vector<LifeRecord> records = random_records(seed, false);
    const GroupLifetime outer = lifetime_of_group(records, wide);
    const GroupLifetime inner = lifetime_of_group(records, tight);
    if (!outer.fit) continue;
    ++fits;
    const auto check = [](const LifeEstimate& out, const LifeEstimate& in) {
      CHECK(out.profile_low <= in.profile_low);
      CHECK(in.profile_low <= in.value);
      CHECK(in.value <= in.profile_high);
      CHECK(in.profile_high <= out.profile_high);
      CHECK(out.normal_low <= in.normal_low);
      CHECK(in.normal_low <= in.value);
      CHECK(in.value <= in.normal_high);
      CHECK(in.normal_high <= out.normal_high);
      REQUIRE(in.error.has_value());
      CHECK(std::isfinite(*in.error));
    };
    check(outer.fit->shape, inner.fit->shape);
    check(outer.fit->scale, inner.fit->scale);
    check(outer.fit->median, inner.fit->median);
    check(outer.fit->b10, inner.fit->b10);
    for (std::size_t i = 0; i < 2; ++i) check(outer.fit->at_times[i].working, inner.fit->at_times[i].working);
    if (outer.test) {
      CHECK(outer.test->statistic >= 0);
      CHECK(outer.test->chance >= 0);
      CHECK(outer.test->chance <= 1);
    }
  }
  CHECK(fits > 150);
}

TEST_CASE("survivors beyond every age lengthen the life") {
  for (unsigned seed = 0; seed < trials; ++seed) {
    CAPTURE(seed);
    std::vector<LifeRecord> records = random_records(seed, true);
    const GroupLifetime before = lifetime_of_group(records);
    if (!before.fit) continue;
    records.push_back(working_at(3, 2));
    const GroupLifetime after = lifetime_of_group(records);
    REQUIRE(after.fit.has_value());
    CHECK(after.fit->scale.value > before.fit->scale.value);
  }
}

TEST_CASE("nowhere near is the likelihood greater, and the derivatives are those of the value") {
  for (unsigned seed = 0; seed < trials; ++seed) {
    CAPTURE(seed);
    const std::vector<LifeRecord> records = random_records(seed, false);
    const GroupLifetime group = lifetime_of_group(records);
    if (!group.fit) continue;
    const lifetime::Observations seen = lifetime::observe(records);
    const lifetime::WeibullLikelihood likelihood(seen);
    const double shape = group.fit->shape.value;
    const double level = shape * (seen.centre - std::log(group.fit->scale.value));
    const double value = likelihood.at(level, shape).value;
    CHECK(near_rel(value, group.fit->log_likelihood, 1e-12));
    // At a shape of its own the level is best where the slope along it vanishes.
    for (const double other : {0.7 * shape, shape, 1.5 * shape}) {
      const double pieces = seen.exact + seen.between;
      CHECK(near_abs(likelihood.at(likelihood.best_level(other, 0), other).d_level, 0, 1e-5 * pieces));
    }
    for (const double h : {1e-3, 0.1, 0.5}) {
      for (const double angle : {0.0, 1.0, 2.0, 3.0, 4.0, 5.0}) {
        CHECK(likelihood.at(level + h * std::cos(angle), shape * (1 + h * std::sin(angle))).value <= value);
      }
    }
    // Away from the maximum, where nothing vanishes.
    const double l = level + 0.3;
    const double s = 1.2 * shape;
    constexpr double h = 1e-5;
    const auto e = likelihood.at(l, s);
    const auto up = likelihood.at(l + h, s), down = likelihood.at(l - h, s);
    const auto more = likelihood.at(l, s + h), less = likelihood.at(l, s - h);
    const double size = 1e-6 * (1 + std::abs(e.d_shape_shape) + std::abs(e.d_level_level));
    CHECK(near_abs(e.d_level, (up.value - down.value) / (2 * h), size));
    CHECK(near_abs(e.d_shape, (more.value - less.value) / (2 * h), size));
    CHECK(near_abs(e.d_level_level, (up.d_level - down.d_level) / (2 * h), size));
    CHECK(near_abs(e.d_level_shape, (more.d_level - less.d_level) / (2 * h), size));
    CHECK(near_abs(e.d_shape_shape, (more.d_shape - less.d_shape) / (2 * h), size));
  }
}

// Derived: two failures at a and b and nothing else, y = ln(b/a): the score of the shape, 1/k = (y/2) tanh(k
// y/2), has k y/2 = 1.19967864025773, the root of x tanh x = 1.
TEST_CASE("two failures: a closed form") {
  std::mt19937 engine(5);
  for (unsigned i = 0; i < trials; ++i) {
    const double a = 1000 * uniform(engine);
    const double b = a * std::exp(0.01 + 5 * uniform(engine));
    const GroupLifetime group = lifetime_of_group({failed_at(a), failed_at(b)});
    REQUIRE(group.fit.has_value());
    CHECK(near_rel(group.fit->shape.value, 2 * 1.19967864025773 / std::log(b / a), 1e-10));
  }
}

TEST_SUITE_END();
