// What must hold of pieces in the drawer, whatever the case.
#include <doctest/doctest.h>

#include <cmath>

#include "mendworth/weigh.hpp"
#include "support/near.hpp"
#include "support/random_devices.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

constexpr int futures = 3000;

/// Cases in which pieces on hand matter.
class DrawerCases : public RandomCases {
 public:
  using RandomCases::RandomCases;

  Case next() {
    Case c = minimal_case();
    c.device.must_keep = true;  // the best repair alone is asked for
    c.device.use_per_day = exactly(real(50, 600));
    c.positions[0].count = whole(1, 3);
    c.positions[0].failed = 1;
    c.downtime.per_day = exactly(real(0, 2));
    c.suppliers[0].shipping = tiers({{0, real(0, 8)}});
    c.risks.dry_fit_minutes = exactly(real(0, 5));
    auto& part = c.parts[0];
    part.other_uses_per_year = exactly(whole(0, 1) * real(0, 1.5));
    part.shelf_life_years = exactly(real(1, 9));
    part.spare_resale = exactly(whole(0, 1) * real(0, 0.5));
    part.candidates[0].offers[0].prices = ladder({{1, real(0.5, 4)}});
    part.candidates[0].fit = exactly(whole(0, 1) == 0 ? 1.0 : real(0.3, 1));
    if (whole(0, 1) == 1) {
      part.candidates.push_back(part.candidates[0]);
      part.candidates[1].name = "flat button";
      part.candidates[1].offers[0].prices = ladder({{1, real(0.5, 4)}});
      part.candidates[1].fit = exactly(real(0.3, 1));
    }
    return c;
  }
};

struct Best {
  double cost, error;
};

Best best_repair(const Case& c) {
  const auto w = weigh(c, RateBook{}, {.seed = 3, .futures = futures, .threads = 1});
  REQUIRE(!w.options.empty());
  return {w.options.front().present_cost, w.options.front().present_cost_error};
}

}  // namespace

TEST_SUITE_BEGIN("properties");

TEST_CASE("more pieces on hand never make the best repair dearer, nor cheaper than by what they cost") {
  DrawerCases random(311);
  for (int i = 0; i < 15; ++i) {
    CAPTURE(i);
    Case c = random.next();
    const double each = c.parts[0].candidates[0].offers[0].prices[0].each.base();
    const double order = each + c.suppliers[0].shipping[0].price.base() + 2 * c.downtime.per_day.base();
    Best before = best_repair(c);
    for (const int pieces : {1, 2, 4}) {
      CAPTURE(pieces);
      const int more = pieces - c.parts[0].candidates[0].on_hand;
      c.parts[0].candidates[0].on_hand = pieces;
      const Best after = best_repair(c);
      const double noise = 4 * std::hypot(before.error, after.error);
      // Where other uses want the pieces, the plan is charged with their worth there, and spares that it orders
      // serve those uses later: the rule is for none.
      if (c.parts[0].other_uses_per_year.base() == 0 && c.parts[0].spare_resale.base() == 0) {
        CHECK(after.cost <= before.cost + noise);
      }
      // Each of them ordered on its own, with its postage and wait.
      CHECK(after.cost >= before.cost - more * order - noise);
      before = after;
    }
  }
}

TEST_CASE("a plan that takes nothing from the drawer costs the same with and without it") {
  DrawerCases random(312);
  for (int i = 0; i < 12; ++i) {
    CAPTURE(i);
    Case c = random.next();
    c.positions[0].count = 1;
    auto& part = c.parts[0];
    part.candidates.resize(1);
    part.candidates[0].fit = exactly(1);
    part.candidates.push_back(part.candidates[0]);
    const Bench without(c);
    part.candidates[1].on_hand = random.whole(1, 6);
    const Bench with(c);
    // The order of one piece: no spare of its own competes with the drawer's.
    const auto a = without.run(without.plan(Family::failed_only, no_limit), 20'000);
    const auto b = with.run(with.plan(Family::failed_only, no_limit), 20'000);
    double sum = 0, squares = 0;
    for (std::size_t f = 0; f < a.costs[0].size(); ++f) {
      const double difference = b.costs[0][f] - a.costs[0][f];
      sum += difference;
      squares += difference * difference;
    }
    const double error = std::sqrt(squares) / 20'000;
    CHECK(near_abs(sum / 20'000, 0.0, 4 * error + 1e-9));
  }
}

TEST_SUITE_END();
