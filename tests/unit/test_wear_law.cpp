#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

#include "futures/range_draws.hpp"
#include "numeric/linear_density.hpp"
#include "support/near.hpp"
#include "support/scenario.hpp"

namespace mendworth::test {
namespace {

/// Four alike, one failed; age, use and rated life known as ranges only.
Case ranges_that_wear() {
  Case c = one_position(2.0, 1.8, 5.0, 0.0);
  c.positions[0].count = 4;
  c.positions[0].failed = 1;
  c.parts[0].life.life_spread = 1.5;
  c.device.age_years = Quantity::between(0.5, 3.0);
  c.device.use_per_day = Quantity::three_point(0.5 / 365.25, 0.8 / 365.25, 3.0 / 365.25);
  const double rated = c.parts[0].life.rated_life.base();
  c.parts[0].life.rated_life = Quantity::between(0.3 * rated, 3.0 * rated);
  return c;
}

}  // namespace

// Derived: a density 2x has quantiles sqrt(u), one of 2(1 - x) has 1 - sqrt(1 - u).
TEST_CASE("a linear density is inverted exactly") {
  const std::array rising{std::log(0.0), std::log(0.5), std::log(1.0)};
  const std::array falling{std::log(1.0), std::log(0.5), std::log(0.0)};
  for (const double u : {0.001, 0.1, 0.25, 0.5, 0.9, 0.999}) {
    CHECK(near_abs(LinearDensity(rising).quantile(u), std::sqrt(u), 1e-12));
    CHECK(near_abs(LinearDensity(falling).quantile(u), 1 - std::sqrt(1 - u), 1e-12));
  }
}

TEST_CASE("between two conditions quantiles are interpolated, beyond them they stay") {
  const std::array rising{std::log(0.0), std::log(1.0)}, even{0.0, 0.0};
  const ConditionalDensity density(1.0, 2.0, {LinearDensity(rising), LinearDensity(even)});
  CHECK(near_abs(density.quantile(1.0, 0.25), 0.5, 1e-12));
  CHECK(near_abs(density.quantile(2.0, 0.25), 0.375, 1e-12));
  CHECK(near_abs(density.quantile(9.0, 0.25), 0.25, 1e-12));
}

// Derived: sums over a grid of the joint prior, each point weighed by the tabulated likelihood of the evidence there.
TEST_CASE("age, use and rated life are drawn from their joint posterior") {
  const Case c = ranges_that_wear();
  ModelCache cache;
  const DeviceModel model = DeviceModel::make(c, {}, cache);
  REQUIRE(model.failures_by_wear == 1);

  constexpr int steps = 64;
  std::array<double, 4> wanted{};
  double total = 0;
  const Sampler age(c.device.age_years), use(*c.device.use_per_day), rated(c.parts[0].life.rated_life);
  for (int i = 0; i < steps * steps * steps; ++i) {
    const double a = age((i % steps + 0.5) / steps);
    const double u = use((i / steps % steps + 0.5) / steps) * 365.25;
    const double r = rated((i / steps / steps + 0.5) / steps);
    const double weight = std::exp(model.lives[0]->log_fit_at(std::log(r / (a * u)))) / a;
    total += weight;
    const std::array values{a, u, r, a * u};
    for (std::size_t k = 0; k < values.size(); ++k) wanted[k] += weight * values[k];
  }

  constexpr int futures = 8192;
  std::array<double, 4> found{};
  RangeDraws draws(model, 3, false);
  for (int f = 0; f < futures; ++f) {
    draws.draw(static_cast<std::uint64_t>(f));
    const double a = draws.drawn().device.age_years.base();
    const double u = draws.drawn().device.use_per_day->base() * 365.25;
    const std::array values{a, u, draws.drawn().parts[0].life.rated_life.base(), a * u};
    for (std::size_t k = 0; k < values.size(); ++k) found[k] += values[k] / futures;
  }
  // Densities linear between 65 points, and points of nets: a thousandth or two.
  for (std::size_t k = 0; k < found.size(); ++k) {
    CAPTURE(k);
    CAPTURE(found[k]);
    CAPTURE(wanted[k] / total);
    CHECK(near_rel(found[k], wanted[k] / total, 3e-3));
  }
}

TEST_CASE("a range of age, use or life drawn anew keeps the joint posterior") {
  const Case c = ranges_that_wear();
  ModelCache cache;
  const DeviceModel model = DeviceModel::make(c, {}, cache);
  constexpr int futures = 8192;
  RangeDraws draws(model, 3, false);
  const RandomBlocks others(77);
  for (std::size_t range = 0; range < 3; ++range) {
    double before = 0, after = 0;
    for (int f = 0; f < futures; ++f) {
      draws.draw(static_cast<std::uint64_t>(f));
      before += draws.value(range) / futures;
      draws.draw_anew(range, others);
      after += draws.value(range) / futures;
    }
    CHECK(near_rel(after, before, 0.01));
  }
}

TEST_CASE("futures that are kept are those that are drawn") {
  const Bench bench(ranges_that_wear());
  const Option option = bench.plan(Family::failed_only, no_limit);
  const EnsembleSettings settings{.seed = 7, .futures = 300, .keep_costs = true, .draw_prices = false};
  FutureStore store(bench.model, 7, 200);
  Scene scene = bench.scene();
  const auto drawn = run_ensemble(scene, {option}, settings).costs;
  scene.store = &store;
  // First they are drawn and kept, then taken from there; the last hundred have no place.
  for (int round = 0; round < 2; ++round) CHECK(run_ensemble(scene, {option}, settings).costs == drawn);
  CHECK(store.at(199) != nullptr);
  CHECK(store.at(200) == nullptr);
}

}  // namespace mendworth::test
