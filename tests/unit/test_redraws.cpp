// Drawing one thing of a future anew.
#include <doctest/doctest.h>

#include <cmath>

#include "futures/redraws.hpp"
#include "futures/worker.hpp"
#include "support/near.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using namespace mendworth::test;

TEST_SUITE_BEGIN("redraws");

namespace {

/// A price, a chance and two ranges that the evidence ties to each other.
Case uncertain_case() {
  Case c = minimal_case();
  c.device.age_years = Quantity::between(2, 8);
  c.device.use_per_day = Quantity::between(50, 500);
  c.risks.opening_write_off = Quantity::between(0.01, 0.2);
  c.labour.visit_minutes = Quantity::between(10, 60);
  c.labour.rate_per_hour = exactly(30);
  c.parts[0].candidates[0].fit = exactly(0.5);
  return c;
}

}  // namespace

TEST_CASE("a price drawn anew is worth what a run at that price costs") {
  const Bench bench(uncertain_case());
  const std::array<Option, 2> options = {Option{.kind = OptionKind::replacement, .replacement = 0},
                                         bench.plan(Family::failed_only, 1)};
  constexpr int futures = 60;
  const Redraws found = redraws(bench.scene(), options, 5, futures);
  const RandomBlocks others(5 + 0x9e3779b97f4a7c15);
  Worker worker(bench.scene(), {.seed = 5});
  Tally tally;
  tally.reset(bench.items.size());
  int prices = 0, moved = 0;
  for (std::size_t i = 0; i < bench.model.uncertain.size(); ++i) {
    prices += bench.model.uncertain[i].is_price ? 1 : 0;
    for (std::size_t f = 0; f < futures; ++f) {
      worker.begin(f);
      Future& future = worker.draw_anew(i, others);
      double cost = worker.runner().run(options[0], future, worker.prices(), tally, {});
      cost -= worker.runner().run(options[1], future, worker.prices(), tally, {});
      CHECK(near_abs(found.range_anew[i][f], cost, 1e-9));
      moved += std::abs(found.range_anew[i][f] - found.as_drawn[f]) > 1e-9 ? 1 : 0;
    }
  }
  CHECK(prices == 1);
  CHECK(moved > futures);
}

TEST_CASE("without ranges only luck is drawn anew") {
  Case c = uncertain_case();
  c.device.age_years = exactly(4);
  c.device.use_per_day = exactly(200);
  c.risks.opening_write_off = exactly(0.1);
  c.labour.visit_minutes = exactly(30);
  const Bench bench(c);
  const Redraws found =
      redraws(bench.scene(),
              {Option{.kind = OptionKind::replacement, .replacement = 0}, bench.plan(Family::failed_only, 1)},
              5, 200);
  CHECK(found.range_anew.empty());
  CHECK(found.ranges_anew == found.as_drawn);
  CHECK(found.luck_anew != found.as_drawn);
  REQUIRE(found.fit_anew.size() == 1);
  CHECK(found.fit_anew[0] != found.as_drawn);
}

// Derived: to draw one of several dependent numbers anew by its law given the others leaves their common law as it is (a
// step of Gibbs' sampler).
TEST_CASE("ranges that the evidence ties together keep their law") {
  const Bench bench(uncertain_case());
  Worker worker(bench.scene(), {.seed = 11});
  const RandomBlocks others(12);
  constexpr int futures = 20'000;
  for (std::size_t which = 0; which < 2; ++which) {
    double before = 0, after = 0, before_both = 0, after_both = 0, squares = 0;
    for (std::uint64_t f = 0; f < futures; ++f) {
      worker.begin(f);
      const double a = std::log(worker.drawn(0)), b = std::log(worker.drawn(1));
      worker.draw_anew(which, others);
      const double c = std::log(worker.drawn(0)), d = std::log(worker.drawn(1));
      before += (which == 0 ? a : b) / futures;
      after += (which == 0 ? c : d) / futures;
      before_both += a * b / futures;
      after_both += c * d / futures;
      squares += (c * d - a * b) * (c * d - a * b) / futures;
    }
    CAPTURE(which);
    // Logarithms spread by less than 1; the places that are looked at are a 48th of the range apart.
    CHECK(near_abs(before, after, 4 * std::sqrt(2.0 / futures) + 0.003));
    CHECK(near_abs(before_both, after_both, 4 * std::sqrt(squares / futures) + 0.02));
  }
}

TEST_CASE("which candidates fit is told for each future") {
  const Bench bench(uncertain_case());
  const DrawnValues drawn = drawn_values(bench.scene(), {}, 3, 2000);
  REQUIRE(drawn.fits.size() == 1);
  double fits = 0;
  for (const double set : drawn.fits[0]) fits += set / 2000.0;
  CHECK(near_abs(fits, 0.5, 4 * std::sqrt(0.25 / 2000)));
  Case certain = uncertain_case();
  certain.parts[0].candidates[0].fit = exactly(1);
  CHECK(drawn_values(Bench(certain).scene(), {}, 3, 100).fits[0].empty());
}

TEST_SUITE_END();
