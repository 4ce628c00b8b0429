// A job as the shop lives it: against closed forms and by hand.
#include <doctest/doctest.h>

#include <cmath>

#include "quote/margin.hpp"
#include "support/near.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::near_abs;
using mendworth::test::near_rel;
using mendworth::test::one_position;

namespace {

constexpr int futures = 20'000;
constexpr double year_of_days = 365.25;

/// A contest held, and its jobs.
struct Job {
  ModelCache cache;
  Contest contest;
  std::vector<JobPlan> plans;

  explicit Job(const Case& c, bool parts_from_customer = false)
      : contest(c, built_in_rates(), {}, {.seed = 3, .futures = 2000, .threads = 1}, {.futures = 2000},
                cache) {
    plans = job_plans(contest, Shop{}, parts_from_customer);
  }
  [[nodiscard]] std::vector<JobFuture> run(const JobPlan& plan, int warranty_days,
                                           bool parts_from_customer = false) {
    return run_job(contest.model.c, contest.book, plan,
                   {.seed = 3,
                    .futures = futures,
                    .threads = 2,
                    .warranty_days = warranty_days,
                    .parts_from_customer = parts_from_customer},
                   cache);
  }
};

ShopCosts at_rate(double rate) {
  return {.cost_rate = exactly(rate), .come_back = exactly(0), .come_back_minutes = exactly(0)};
}

}  // namespace

TEST_CASE("the reserve of new parts with exponential life is the closed form") {
  // Derived. A piece of exponential life of rate lambda that is renewed whenever it fails comes back as a Poisson
  // process (Ross, Introduction to Probability Models, the Poisson process; from memory), so a warranty of W years
  // expects n lambda W returns of n pieces. Each costs an opening (20 min), a position (8 min) and, as no piece is left,
  // an order (1.00 + 4.00): at 30 an hour 28/60*30 + 5 = 19.00.
  Case c = one_position(2.0, 1.0, 5, 0);
  c.positions[0].count = 3;
  c.positions[0].failed = 3;
  Job job(c);
  REQUIRE(job.plans.size() >= 1);
  for (const int days : {30, 90, 180, 700}) {
    CAPTURE(days);
    const auto margins = margins_of(job.run(job.plans[0], days), {}, at_rate(30), 3);
    const double expected = 3 * 0.5 * days / year_of_days;
    const double error = std::sqrt(expected / futures);  // of a Poisson count
    CHECK(near_abs(margins.returns, expected, 4 * error));
    CHECK(near_rel(margins.cost.warranty, margins.returns * 19.0, 1e-9));
  }
}

TEST_CASE("returns of a Weibull life within a short warranty are its share of failures") {
  // Derived: with one piece and hardly a second return, E[N(W)] lies between F(W) and F(W) + F(W)^2.
  Case c = one_position(3.0, 2.5, 5, 0);
  Job job(c);
  const auto margins = margins_of(job.run(job.plans[0], 365), {}, at_rate(30), 3);
  const double f = -std::expm1(-std::pow(365 / year_of_days / 3.0, 2.5));
  const double error = std::sqrt(f / futures);
  CHECK(margins.returns > f - 4 * error);
  CHECK(margins.returns < f + f * f + 4 * error);
}

TEST_CASE("old mates that fail do not come back under the warranty of the new piece") {
  Case c = one_position(2.0, 1.0, 5, 0);
  c.positions[0].count = 4;  // one failed, three old ones that last as shortly
  Job job(c);
  const auto margins = margins_of(job.run(job.plans[0], 180), {}, at_rate(30), 3);
  const double expected = 0.5 * 180 / year_of_days;
  CHECK(near_abs(margins.returns, expected, 4 * std::sqrt(expected / futures)));
  // Exponential, so age tells nothing: three of them fail with 1 - exp(-W/2) each.
  const double mates = 3 * -std::expm1(-expected);
  CHECK(near_abs(margins.mates_failed, mates, 5 * std::sqrt(mates / futures)));
}

TEST_CASE("a job without luck costs what its minutes and its order cost, in every future") {
  // By hand: 15 + 20 + 8 = 43 min at 24 an hour = 17.20; the order 1.00 + 4.00 = 5.00; no spare is worth anything.
  Case c = one_position(1e6, 2.0, 5, 0);
  Job job(c);
  const auto margins = margins_of(job.run(job.plans[0], 90), {.cured = 50.0}, at_rate(24), 3);
  CHECK(near_abs(margins.cost.labour, 17.20, 1e-9));
  CHECK(near_abs(margins.cost.order, 5.00, 1e-9));
  CHECK(near_abs(margins.cost.rework + margins.cost.stock + margins.cost.warranty, 0.0, 1e-9));
  for (const double m : margins.margins) CHECK(near_abs(m, 27.80, 1e-9));
}

TEST_CASE("nothing is ordered and nothing comes back where the customer brings the parts") {
  Case c = one_position(0.2, 1.0, 5, 0);
  Job job(c, true);
  const auto margins = margins_of(job.run(job.plans[0], 90, true), {.cured = 50.0}, at_rate(24), 3);
  CHECK(margins.cost.order == 0.0);
  CHECK(margins.returns == 0.0);
  CHECK(near_abs(margins.mean(), 50.0 - 17.20, 1e-9));
}

TEST_CASE("leftovers are worth what other jobs make of them, pieces from the drawer cost the same") {
  // Derived: undiscounted and with far more uses than pieces, each piece saves one order of 1.00 + 4.00 for certain.
  Case c = one_position(1e6, 2.0, 5, 0);
  c.parts[0].other_uses_per_year = exactly(100);
  c.parts[0].candidates[0].offers[0].least = 3;
  c.parts[0].candidates[0].offers[0].stock = 3;
  Job job(c);
  const double saved = 3 * 1.00 + 4.00;  // the small order brings three
  const auto worth = worth_elsewhere(c, job.contest.book, 0, 2);
  CHECK(near_abs(worth[0], 0.0, 1e-12));
  CHECK(near_abs(worth[1], saved, 1e-6));
  CHECK(near_abs(worth[2], 2 * saved, 1e-6));
  const auto bought = margins_of(job.run(job.plans[0], 90), {.cured = 50.0}, at_rate(24), 3);
  CHECK(job.plans[0].leftovers == 2);
  CHECK(near_abs(leftovers_worth(c, job.contest.book, job.plans[0]), 2 * saved, 1e-6));
  CHECK(near_abs(bought.cost.stock, -2 * saved, 1e-6));

  c.parts[0].candidates[0].on_hand = 1;
  Job stocked(c);
  // Spares pay so well here that the plan would order all the same.
  stocked.plans[0].option.plan.first_order = -1;
  stocked.plans[0].option.plan.supplies[0].first_pieces = 0;
  const auto drawn = margins_of(stocked.run(stocked.plans[0], 90), {.cured = 50.0}, at_rate(24), 3);
  CHECK(drawn.cost.order == 0.0);
  CHECK(near_abs(drawn.cost.stock, saved, 1e-6));
}

TEST_CASE("the margin follows the outcome: cured, not cured, lost") {
  // By hand over three made-up futures at 60 an hour (1 a minute).
  std::vector<JobFuture> made(3);
  made[0] = {.minutes = 30, .order = 5, .cured = true};
  made[1] = {.minutes = 30, .luck_minutes = 10, .order = 5, .luck_money = 2};
  made[2] = {.minutes = 30, .order = 5, .lost = true};
  ShopCosts costs = at_rate(60);
  costs.liability = 40;
  const auto margins = margins_of(made, {.cured = 100, .not_cured = 20}, costs, 1);
  CHECK(near_abs(margins.margins[0], 100 - 35, 1e-12));
  CHECK(near_abs(margins.margins[1], 20 - 47, 1e-12));
  CHECK(near_abs(margins.margins[2], -75, 1e-12));
  CHECK(near_abs(margins.mean(), (65.0 - 27.0 - 75.0) / 3.0, 1e-12));
  CHECK(near_abs(margins.cure_chance, 1.0 / 3.0, 1e-12));
}

TEST_CASE("a complaint costs its minutes as often as the shop file says") {
  std::vector<JobFuture> made(200'000);
  for (auto& job : made) job.cured = true;
  ShopCosts costs = at_rate(60);
  costs.come_back = Quantity::between(0.0, 0.1);
  costs.come_back_minutes = Quantity::between(10, 30);
  const auto margins = margins_of(made, {}, costs, 5);
  CHECK(near_abs(margins.cost.come_back, 0.05 * 20, 5 * std::sqrt(0.05 * 433 / 200'000)));
}

TEST_CASE("a quantile is the least value that the share does not exceed") {
  const std::vector<double> values{5, 1, 4, 2, 3};
  CHECK(quantile_of(values, 0.0) == 1);
  CHECK(quantile_of(values, 0.2) == 1);
  CHECK(quantile_of(values, 0.21) == 2);
  CHECK(quantile_of(values, 0.5) == 3);
  CHECK(quantile_of(values, 0.9) == 5);
  CHECK(quantile_of(values, 1.0) == 5);
}
