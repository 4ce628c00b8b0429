// Futures against closed forms and against costs worked out by hand.
#include <doctest/doctest.h>

#include <cmath>

#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "support/near.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

/// Mean of a count per future and its standard error from the spread of the costs, where each event costs 1.
struct Estimate {
  double mean, error;
};

/// Discounted later visits: every later order costs 1, everything else nothing.
Estimate discounted_visits(Case c, int futures) {
  c.suppliers[0].shipping = tiers({{0, 0.0}});
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 1.0}});
  c.labour.rate_per_hour = exactly(0);
  const Bench bench(c);
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
  // The first order costs 1 as well, in every future alike.
  return {ensemble.mean_cost(0) - 1.0, ensemble.cost_error(0)};
}

}  // namespace

TEST_SUITE_BEGIN("futures");

TEST_CASE("discounted visits of a part with exponential life follow the closed form") {
  // Derived: failures are a Poisson stream of rate lambda, so the expected discounted number until H is
  // (lambda/delta)(1 - exp(-delta H)), delta = ln(1 + r).
  for (const double rate : {0.0, 0.05}) {
    for (const double scale : {0.8, 2.0, 10.0}) {
      CAPTURE(rate);
      CAPTURE(scale);
      const double horizon = 5.0, lambda = 1.0 / scale, delta = std::log1p(rate);
      const double expected =
          rate == 0.0 ? lambda * horizon : lambda / delta * (1 - std::exp(-delta * horizon));
      const auto visits = discounted_visits(one_position(scale, 1.0, horizon, rate), 200'000);
      CHECK(visits.error < 0.01);
      CHECK(near_abs(visits.mean, expected, 4 * visits.error));
    }
  }
}

TEST_CASE("undiscounted visits follow the Weibull renewal function") {
  // Published: the renewal function M(t) of the Weibull law, scale 1, by the power series of W. L. Smith and
  // M. R. Leadbetter, "On the renewal function for the Weibull distribution", Technometrics 5 (1963); values to
  // 12 digits computed from it in PARI/GP with 250 and more digits.
  struct Row {
    double shape, t, renewals;
  };
  for (const Row row : {Row{0.5, 1, 1.307984264212}, Row{1.5, 2, 1.945500799926}, Row{2, 1, 0.753691277537},
                        Row{2, 3, 3.021745008954}, Row{3, 1, 0.672329100238}, Row{3, 5, 5.165274536385}}) {
    CAPTURE(row.shape);
    CAPTURE(row.t);
    const auto visits = discounted_visits(one_position(1.0, row.shape, row.t, 0.0), 200'000);
    CHECK(near_abs(visits.mean, row.renewals, 4 * visits.error));
  }
}

TEST_CASE("an aged survivor fails as the conditional Weibull law says") {
  // Derived: P(fails within x | works at age a) = 1 - exp(-(((a+x)/s)^k - (a/s)^k)); later visits limited to one
  // and new parts made to last, so the mean number of later visits is that chance.
  Case c = one_position(6.5, 2.0, 2.0, 0.0);
  c.device.age_years = exactly(6.5);
  c.positions[0].count = 2;     // one failed, one survivor
  c.fault.cause = Cause::blow;  // says nothing about the mate
  c.parts[0].candidates[0].life.rated_life = exactly(1e9);
  const Bench bench(c);
  const int futures = 200'000;
  const auto ensemble = bench.run(bench.plan(Family::failed_only, 1), futures);
  const double chance = -std::expm1(std::pow(6.5 / 6.5, 2) - std::pow(8.5 / 6.5, 2));
  const double mean = ensemble.tallies[0].counts.later_visits / futures;
  CHECK(near_abs(mean, chance, 4 * std::sqrt(chance * (1 - chance) / futures)));
}

TEST_CASE("an earlier renewed position ages from its renewal") {
  Case c = one_position(6.5, 2.0, 2.0, 0.0);
  c.device.age_years = exactly(6.5);
  c.positions[0].count = 2;
  c.positions[0].renewed = 1;
  c.positions[0].renewed_years_ago = exactly(1.5);
  c.fault.cause = Cause::blow;
  c.parts[0].candidates[0].life.rated_life = exactly(1e9);
  const Bench bench(c);
  const int futures = 200'000;
  const auto ensemble = bench.run(bench.plan(Family::failed_only, 1), futures);
  const double chance = -std::expm1(std::pow(1.5 / 6.5, 2) - std::pow(3.5 / 6.5, 2));
  const double mean = ensemble.tallies[0].counts.later_visits / futures;
  CHECK(near_abs(mean, chance, 4 * std::sqrt(chance * (1 - chance) / futures)));
}

TEST_CASE("with nothing uncertain every future costs what it costs by hand") {
  // By hand: order 1.00 + 4.00; 15 + 20 + 8 minutes at 30 an hour = 21.50; the part and the rest outlast the
  // horizon; resale 12 at 5 years and 3 %: 12 * 1.03^-5 = 10.35130541.
  Case c = one_position(1e12, 2.0, 5.0, 0.03);
  c.device.resale = exactly(12);
  const Bench bench(c);
  const auto repair = bench.run(bench.plan(Family::failed_only, no_limit), 500);
  const double expected = 5.0 + 21.5 - 12 * std::pow(1.03, -5);
  for (const double cost : repair.costs[0]) CHECK(near_abs(cost, expected, 1e-9));

  // By hand: 80 now, set-up 20 minutes = 10.00, a day's wait for two days at 3, benefit 6 a year paid evenly:
  // 6 (1 - 1.03^-5)/ln 1.03; scrap 2 now.
  c.device.scrap = exactly(2);
  c.replacements[0].setup_minutes = exactly(20);
  c.replacements[0].benefit_per_year = exactly(6);
  c.downtime.per_day = exactly(3);
  const Bench other(c);
  const auto replacement = other.run({.kind = OptionKind::replacement, .replacement = 0}, 500);
  const double benefit = 6 * (1 - std::pow(1.03, -5)) / std::log(1.03);
  // Of a mean life of a million years five in a million end before.
  CHECK(near_abs(replacement.mean_cost(0), 80 + 10 + 2 * 3 - benefit - 2, 1e-3));
  CHECK(replacement.cost_error(0) < 1e-6);

  // Leaving it: 40 a year until the horizon, then the scrap.
  c.fault.burden_per_year = exactly(40);
  const Bench third(c);
  const auto leave = third.run({.kind = OptionKind::leave}, 500);
  CHECK(near_abs(leave.mean_cost(0), 40 * (1 - std::pow(1.03, -5)) / std::log(1.03) - 2 * std::pow(1.03, -5),
                 1e-9));
}

TEST_CASE("learning shortens the work on each further position") {
  // By hand: unit curve at 80 %: 1, 0.8, 0.8^log2(3) = 0.70210370; three positions of 10 minutes = 25.0210370.
  Case c = one_position(1e12, 2.0, 5.0, 0.0);
  c.positions[0].count = 3;
  c.positions[0].failed = 3;
  c.positions[0].minutes = exactly(10);
  c.labour.learning_rate = exactly(0.8);
  const Bench bench(c);
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), 200);
  const double minutes = 15 + 20 + 10 * (1 + 0.8 + std::pow(0.8, std::log2(3.0)));
  CHECK(near_abs(ensemble.mean_cost(0), 3 * 1.0 + 4.0 + minutes / 60 * 30, 1e-9));
}

TEST_CASE("damage combines over openings and joints") {
  // Derived: 1 - (1 - 0.01)(1 - 0.003)^8 for a write-off with eight joints.
  Case c = one_position(1e12, 2.0, 5.0, 0.0);
  c.positions[0].joints = 8;
  c.risks.opening_write_off = exactly(0.01);
  c.risks.joint_write_off = exactly(0.003);
  c.risks.joint_mendable = exactly(0.01);
  const Bench bench(c);
  const int futures = 200'000;
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
  const double lost = 1 - 0.99 * std::pow(0.997, 8);
  const double mended = 1 - std::pow(0.99, 8);
  const auto& counts = ensemble.tallies[0].counts;
  CHECK(near_abs(counts.written_off / futures, lost, 4 * std::sqrt(lost * (1 - lost) / futures)));
  const double any = 1 - (1 - lost) * (1 - mended);
  CHECK(near_abs(counts.damaged / futures, any, 4 * std::sqrt(any * (1 - any) / futures)));
  // A lost device is replaced at 80 at once, after the visit was paid.
  const double visit = 1 + 4 + 21.5;
  CHECK(near_abs(ensemble.mean_cost(0), visit + lost * 80, 4 * ensemble.cost_error(0)));
}

TEST_CASE("a wrong diagnosis costs a second attempt or the device") {
  Case c = one_position(1e12, 2.0, 5.0, 0.0);
  c.risks.diagnosis_right = exactly(0.7);
  const double visit = 1 + 4 + 21.5;
  const int futures = 200'000;
  {
    const Bench bench(c);
    const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
    CHECK(near_abs(ensemble.mean_cost(0), visit + 0.3 * 80, 4 * ensemble.cost_error(0)));
  }
  c.risks.second_attempt = SecondAttempt{.minutes = exactly(30), .money = exactly(2), .chance = exactly(0.5)};
  const Bench bench(c);
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
  CHECK(near_abs(ensemble.mean_cost(0), visit + 0.3 * (15 + 2) + 0.15 * 80, 4 * ensemble.cost_error(0)));
  CHECK(near_abs(ensemble.tallies[0].counts.cured / futures, 0.85, 0.004));
}

TEST_CASE("a misfit is found dry or after closing, and the next candidate is ordered") {
  Case c = one_position(1e12, 2.0, 5.0, 0.0);
  c.parts[0].candidates[0].fit = exactly(0.6);
  auto second = candidate("short button", {offer(0, {{1, 3.00}})});
  second.life.rated_life = exactly(1e12);
  c.parts[0].candidates.push_back(second);
  c.risks.dry_fit_minutes = exactly(6);
  const int futures = 200'000;
  const double visit = 1 + 4 + 21.5;
  {
    const Bench bench(c);  // found dry: 3.00 of time, 3 + 4 for the second order
    const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
    CHECK(near_abs(ensemble.mean_cost(0), visit + 0.4 * (3 + 7), 4 * ensemble.cost_error(0)));
  }
  c.risks.misfit_found_after_closing = exactly(1);
  {
    const Bench bench(c);  // after closing: another opening and the work again, (20 + 8) minutes = 14.00
    const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
    CHECK(near_abs(ensemble.mean_cost(0), visit + 0.4 * (14 + 7), 4 * ensemble.cost_error(0)));
  }
  c.parts[0].candidates[1].fit = exactly(0);
  const Bench bench(
      c);  // nothing fits: both tried, then another device; the work on the position is not done
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
  CHECK(near_abs(ensemble.tallies[0].counts.cured / futures, 0.6, 0.005));
  CHECK(near_abs(ensemble.mean_cost(0), visit + 0.4 * (14 + 7 + 14 + 80 - 4), 4 * ensemble.cost_error(0)));
}

TEST_CASE("a dead piece costs the work again and another piece") {
  Case c = one_position(1e12, 2.0, 5.0, 0.0);
  c.parts[0].candidates[0].dead_on_arrival = exactly(0.25);
  const int futures = 200'000;
  const double visit = 1 + 4 + 21.5;
  {
    const Bench bench(c);  // found at the test: 8 minutes = 4.00 and an order of 5.00
    const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
    CHECK(near_abs(ensemble.mean_cost(0), visit + 0.25 * (4 + 5), 4 * ensemble.cost_error(0)));
    const auto spare =
        bench.run(bench.plan(Family::failed_only, no_limit, 1), futures);  // a spare is at hand
    CHECK(near_abs(spare.mean_cost(0), visit + 1 + 0.25 * 4, 4 * spare.cost_error(0)));
  }
  c.risks.dead_found_after_closing = exactly(1);
  const Bench bench(c);  // another opening: 20 minutes = 10.00 more
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
  CHECK(near_abs(ensemble.mean_cost(0), visit + 0.25 * (4 + 5 + 10), 4 * ensemble.cost_error(0)));
}

TEST_CASE("a spill fails the survivors together") {
  Case c = one_position(1e12, 2.0, 2.0, 0.0);
  c.positions[0].count = 4;
  c.fault.cause = Cause::spill;
  c.fault.common_cause_chance = exactly(0.5);
  c.fault.common_cause_years = exactly(1);
  const Bench bench(c);
  const int futures = 200'000;
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
  const double chance = 0.5 * (1 - std::exp(-2.0));
  const double visits = ensemble.tallies[0].counts.later_visits / futures;
  CHECK(near_abs(visits, chance, 4 * std::sqrt(chance * (1 - chance) / futures)));
  // One visit renews all three: three pieces and one shipping, 20 + 3 * 8 minutes.
  CHECK(near_abs(ensemble.mean_cost(0), 26.5 + chance * (3 + 4 + 22), 4 * ensemble.cost_error(0)));
}

TEST_CASE("other uses take spares as a Poisson stream, within the shelf life") {
  // Derived: one spare, uses at rate 0.5 a year, shelf life 2 years of a horizon of 5: it is used with chance
  // 1 - exp(-0.5 * 2) and then saves an order of 5.00.
  Case c = one_position(1e12, 2.0, 5.0, 0.0);
  c.parts[0].other_uses_per_year = exactly(0.5);
  c.parts[0].shelf_life_years = exactly(2);
  const Bench bench(c);
  const int futures = 200'000;
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit, 1), futures);
  const double used = 1 - std::exp(-1.0);
  CHECK(near_abs(ensemble.mean_cost(0), 26.5 + 1 - 5 * used, 4 * ensemble.cost_error(0)));
  CHECK(near_abs(ensemble.tallies[0].counts.spares_used / futures, used, 0.005));
}

TEST_CASE("other uses beyond counting take every spare, and the next one too") {
  // Derived: a place fails as a Poisson stream, on average every 20 years for 100; every order is of two pieces, one
  // to fit and one over. Where others want one 2000 times between two failures, they take each at once, unless the
  // place itself comes first: 1 in 2001. Waits that nobody serves are not walked through one by one.
  Case c = one_position(20.0, 1.0, 100.0, 0.0);
  c.parts[0].other_uses_per_year = exactly(100);
  c.parts[0].shelf_life_years = exactly(1e6);
  c.parts[0].candidates[0].offers[0].multiple = 2;
  const Bench bench(c);
  const int futures = 20'000;
  const auto ensemble = bench.run(bench.plan(Family::failed_only, no_limit), futures);
  const auto& counts = ensemble.tallies[0].counts;
  CHECK(near_abs(counts.later_visits / futures, 5.0, 4 * std::sqrt(5.0 / futures)));
  CHECK(near_abs(counts.spares_used, counts.later_visits + futures, 0.002 * counts.spares_used));
}

TEST_CASE("a spare saves the order of a later failure") {
  // Exponential life, scale 2, one later visit at most within 5 years: chance 1 - exp(-2.5). Without a spare it
  // needs an order (5.00), with one it does not. The device goes at the second failure: nothing bought then.
  Case c = one_position(2.0, 1.0, 5.0, 0.0);
  c.replacements[0].price = exactly(0);
  const Bench bench(c);
  const int futures = 200'000;
  const auto without = bench.run(bench.plan(Family::failed_only, 1), futures);
  const auto with = bench.run(bench.plan(Family::failed_only, 1, 1), futures);
  const double later = 1 - std::exp(-2.5);
  CHECK(near_abs(with.mean_cost(0) - without.mean_cost(0), 1 - 5 * later, 0.03));
}

// Derived: mates share one unknown scale. With a flat prior on ln scale and a known shape, S the sum of
// wear^shape over all positions, r failures and dU what a survivor adds, one survives with chance (S/(S + dU))^r and two
// together with (S/(S + 2 dU))^r: more than the square of the one, so they also fail together more often than apart.
TEST_CASE("mates fail together as often as the integral over their common life says") {
  Case c = one_position(2.0, 1.8, 5.0, 0.0);
  c.positions[0].count = 4;
  c.positions[0].failed = 1;
  c.parts[0].life.life_spread = 1e40;
  c.horizon.years = exactly(c.device.age_years.base() * 0.6);
  ModelCache cache;
  const DeviceModel model = DeviceModel::make(c, {}, cache);
  Physics physics;
  PhysicsMemory memory;
  physics.take(c, model, memory);
  Future future(model, 11);
  constexpr int futures = 200'000;
  double both = 0, one = 0;
  for (int f = 0; f < futures; ++f) {
    future.begin(static_cast<std::uint64_t>(f), physics);
    const bool first = future.failure(1) < years_ahead(c);
    const bool second = future.failure(2) < years_ahead(c);
    one += first ? 1.0 / futures : 0.0;
    both += first && second ? 1.0 / futures : 0.0;
  }
  const double added = std::pow(1.6, 1.8) - 1.0;
  const double survives = 4.0 / (4.0 + added);
  const double both_fail = 1 - 2 * survives + 4.0 / (4.0 + 2 * added);
  const double error = std::sqrt(both_fail * (1 - both_fail) / futures);
  CHECK(near_abs(one, 1 - survives, 4 * error));
  CHECK(near_abs(both, both_fail, 4 * error));
  CHECK(both_fail > (1 - survives) * (1 - survives) + 20 * error);
}

TEST_CASE("a device bought used tells of its parts' lives only since then") {
  Case c = one_position(2.0, 1.8, 5.0, 0.0);
  c.positions[0].count = 4;
  c.positions[0].failed = 1;
  c.parts[0].life.life_spread = 2.0;
  ModelCache cache;
  const double age = c.device.age_years.base();
  const auto chance = [&] {
    const DeviceModel model = DeviceModel::make(c, {}, cache);
    const double wear = age * use_per_year(c.device, c.parts[0].life.unit);
    return model.lives[0]->posterior->failure_chance(std::log(c.parts[0].life.rated_life.base() / wear), 1.0,
                                                     0.2);
  };
  const double own = chance();
  c.device.bought_used_years_ago = exactly(age * 0.25);
  const DeviceModel model = DeviceModel::make(c, {}, cache);
  for (const WearEvidence& e : model.evidence[0]) CHECK(near_abs(e.watched_from, 0.75, 1e-12));
  // One failure in a quarter of the service says more of a short life than one in all of it.
  CHECK(chance() > own);
}

TEST_CASE("what is counted in two blocks of futures adds up") {
  Tally::Counts counts{1, 2, 3, 4, 5, 6, 7};
  counts.add({10, 20, 30, 40, 50, 60, 70});
  CHECK(counts.later_visits == 11);
  CHECK(counts.damaged == 22);
  CHECK(counts.written_off == 33);
  CHECK(counts.cured == 44);
  CHECK(counts.replaced == 55);
  CHECK(counts.endless == 66);
  CHECK(counts.spares_used == 77);
}

TEST_CASE("any number of threads gives the same bytes") {
  Case c = one_position(2.0, 1.5, 5.0, 0.04);
  c.labour.visit_minutes = Quantity::three_point(10, 20, 60);
  c.suppliers[0].shipping[0].price = Quantity::between(3, 6);
  const Bench bench(c);
  const auto& plan = bench.plan(Family::failed_only, no_limit);
  const auto one = bench.run(plan, 5000, 1);
  for (const int threads : {2, 3, 8}) {
    const auto many = bench.run(plan, 5000, threads);
    CHECK(one.tallies[0].cost == many.tallies[0].cost);
    CHECK(one.costs == many.costs);
  }
}

TEST_CASE("a timeline holds the whole cost but for the devices bought after this one") {
  Case c = one_position(2.0, 1.5, 5.0, 0.04);
  c.fault.burden_per_year = exactly(10);
  c.replacements[0].price = exactly(0);
  const Bench bench(c);
  for (const Option& option : {bench.plan(Family::failed_only, 1), Option{.kind = OptionKind::leave}}) {
    const auto runs = run_ensemble(
        bench.scene(), {option},
        {.seed = 7, .futures = 2000, .threads = 2, .timeline_years = 5.001, .timeline_bins = 50});
    double total = 0;
    for (const double cost : runs.timelines[0].cost) total += cost;
    CHECK(near_abs(total, runs.mean_cost(0), 1e-9));
  }
}

// Failures come as a Poisson stream of one a year: some five repairs, of 19.30 each with its order, more or fewer.
// What sixteen randomisations say of the error is itself known to a fifth.
TEST_CASE("as many futures are run as the precision asked for takes, of a saving or of a cost alone") {
  for (const bool must_keep : {false, true}) {
    CAPTURE(must_keep);
    Case c = one_position(1.0, 1.0, 5.0, 0.0);
    c.device.must_keep = must_keep;
    c.replacements[0].price = exactly(500);
    const Weighing w = weigh(c, built_in_rates(), {.seed = 5, .precision = 0.2, .what_ifs = false});
    CHECK(w.options.front().futures > 2048);
    CHECK((must_keep ? w.options.front().present_cost_error : w.verdict.saving_error) <= 0.3);
  }
}

TEST_SUITE_END();
