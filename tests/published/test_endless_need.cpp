// A need that goes on: what replacing again and again comes to, and repairing against it.
// Published: renewal reward and the discounted renewal cost (R. E. Barlow and F. Proschan, Mathematical Theory of
// Reliability, Wiley 1965, chapter 3); the equivalent yearly cost of alternatives with unequal lives, as in any text on
// engineering economics (the comparison by repeated lives). Derived figures show their derivation.
#include <doctest/doctest.h>

#include <cmath>

#include "futures/stopping.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "numeric/weibull.hpp"
#include "support/published.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using mendworth::test::Bench;
using mendworth::test::exactly;
using mendworth::test::one_position;
using mendworth::test::published::near_abs;
using mendworth::test::published::near_rel;

TEST_SUITE_BEGIN("published: a need that goes on");

namespace {

/// A need that goes on; a new device costs `price` and lasts Weibull(mean, shape).
Case endless(double price, double mean, double shape, double rate) {
  Case c = one_position(1e6, 2.0, 5.0, rate);
  c.horizon.years.reset();
  c.replacements[0].price = exactly(price);
  c.replacements[0].life_years = exactly(mean);
  c.replacements[0].life_shape = exactly(shape);
  return c;
}

Weighing weighed(const Case& c, int futures = 4000) {
  return weigh(c, RateBook{}, {.seed = 3, .futures = futures, .threads = 2, .what_ifs = false});
}

double cost_of(const Weighing& w, const std::string& name) {
  for (const OptionResult& option : w.options) {
    if (option.name == name) return option.present_cost;
  }
  FAIL("no option " << name);
  return 0;
}

}  // namespace

TEST_CASE("a chain of exponential lives: price (1 + 1/(mean d))") {
  // Derived: E[v^L] = 1/(1 + mean d) with d = ln(1 + r), so W = P/(1 - E[v^L]) = P (1 + 1/(mean d)).
  for (const double mean : {0.5, 4.0, 30.0}) {
    const double d = std::log(1.03);
    const Bench bench(endless(80, mean, 1.0, 0.03));
    CHECK(near_rel(bench.chains.cost(), 80 * (1 + 1 / (mean * d)), 2e-4));
  }
}

TEST_CASE("equal certain lives: the equivalent yearly cost of the textbook") {
  // Derived: a device of certain life n costs P r/(1 - (1+r)^-n) at each year's end; continuously that is
  // P ln(1+r)/(1 - (1+r)^-n) a year. A shape of 20 is certain within a few per cent of the life.
  for (const double n : {3.0, 7.0}) {
    const Bench bench(endless(100, n, 20.0, 0.05));
    CHECK(near_rel(bench.chains.cost_per_year(), 100 * std::log(1.05) / (1 - std::pow(1.05, -n)), 2e-3));
  }
}

TEST_CASE("unequal lives: the device that costs less a year follows the other") {
  // 100 for 4 years against 150 for 9, at 5 %: by yearly cost 28.2 against 21.1 at each year's end.
  Case c = endless(100, 4, 20.0, 0.05);
  c.replacements.push_back(c.replacements[0]);
  c.replacements[1].name = "lasting";
  c.replacements[1].price = exactly(150);
  c.replacements[1].life_years = exactly(9);
  const Bench bench(c);
  CHECK(bench.chains.best() == 1);
  const double best = 150 / (1 - std::pow(1.05, -9));
  CHECK(near_rel(bench.chains.cost(), best, 2e-3));
  // Derived: the cheap one once, then the lasting one for ever.
  const auto other = bench.run({.kind = OptionKind::replacement, .replacement = 0}, 200);
  CHECK(near_rel(other.mean_cost(0), 100 + std::pow(1.05, -4) * best, 2e-3));
}

TEST_CASE("without interest courses are compared by cost a year") {
  // Derived: renewal reward, 80 every 4 years is 20 a year whatever the spread of the lives; a repair that costs 26.5 and
  // holds the device for another 3 years saves 3 * 20 - 26.5.
  for (const double shape : {1.0, 2.0, 8.0}) {
    Case c = endless(80, 4, shape, 0.0);
    c.rest.remaining_years = exactly(3);
    c.rest.shape = exactly(2);
    const Weighing w = weighed(c, 40'000);
    CHECK(w.costs_are_relative);
    CHECK(near_abs(cost_of(w, "replace: " + c.replacements[0].name), 0.0, 1e-9));
    REQUIRE(w.verdict.saving);
    CHECK(near_abs(*w.verdict.saving, 3 * 20 - 26.5, 4 * w.verdict.saving_error + 0.01));
  }
}

TEST_CASE("no interest is the limit of a little interest") {
  Case c = endless(80, 4, 2.0, 0.0);
  c.rest.remaining_years = exactly(3);
  const double none = *weighed(c).verdict.saving;
  c.horizon.discount_rate = exactly(1e-5);
  CHECK(near_abs(*weighed(c).verdict.saving, none, 0.02));
}

TEST_CASE("a need that ends late is a need that goes on") {
  Case c = endless(80, 4, 2.0, 0.08);
  c.rest.remaining_years = exactly(3);
  c.fault.burden_per_year = exactly(30);
  const Weighing forever = weighed(c);
  c.horizon.years = exactly(90);
  const Weighing late = weighed(c);
  CHECK(near_abs(*late.verdict.saving, *forever.verdict.saving, 0.2));
  CHECK(near_abs(cost_of(late, "leave it as it is"), cost_of(forever, "leave it as it is"), 0.6));
}

TEST_CASE("the renewal equation where the need ends: exponential lives") {
  // Derived: M(h) = 1 + (1 - e^(-d h))/(mean d), the first device and a Poisson stream of rate 1/mean, discounted.
  for (const double h : {1.0, 5.0, 20.0}) {
    Case c = endless(80, 4, 1.0, 0.03);
    c.horizon.years = exactly(h);
    const double d = std::log(1.03);
    CHECK(near_rel(Bench(c).chains.cost(), 80 * (1 + (1 - std::exp(-d * h)) / (4 * d)), 1e-4));
  }
}

TEST_CASE("the rest of a device lasts as one of its kind that has reached its age") {
  // Derived: a shape of 1 forgets its age; certain lives leave the difference.
  CHECK(near_rel(mean_remaining({.scale = 6, .shape = 1}, 4), 6, 2e-3));
  CHECK(near_abs(mean_remaining({.scale = scale_from_mean(9, 20), .shape = 20}, 4), 5, 0.01));
  Case c = endless(80, 4, 2.0, 0.03);
  c.rest.remaining_years.reset();
  c.rest.shape = exactly(1);
  c.device.life_years = exactly(6);
  Case stated = c;
  stated.rest.remaining_years = exactly(6);
  CHECK(near_abs(*weighed(c, 40'000).verdict.saving, *weighed(stated, 40'000).verdict.saving, 1.0));
}

TEST_CASE("what nobody chooses changes nothing") {
  Case c = endless(80, 4, 2.0, 0.03);
  c.device.age_years = Quantity::between(2, 5);
  c.positions[0].count = 3;
  c.rest.remaining_years.reset();
  c.device.life_years = exactly(8);
  c.risks.opening_write_off = exactly(0.05);
  c.parts[0].candidates[0].fit = exactly(0.8);
  const Weighing before = weighed(c);
  Case more = c;
  more.replacements.push_back(c.replacements[0]);
  more.replacements[1].name = "dearer and shorter";
  more.replacements[1].price = exactly(140);
  more.replacements[1].life_years = exactly(1);
  Candidate dear = c.parts[0].candidates[0];
  dear.name = "dear and doubtful";
  dear.fit = exactly(0.05);
  dear.offers[0].prices[0].each = exactly(400);
  more.parts[0].candidates.push_back(dear);
  more.suppliers.push_back(c.suppliers[0]);
  more.suppliers[1].name = "far and dear";
  more.suppliers[1].shipping[0].price = exactly(90);
  Offer far = c.parts[0].candidates[0].offers[0];
  far.supplier = 1;
  more.parts[0].candidates[0].offers.push_back(far);
  const Weighing after = weighed(more);
  for (const OptionResult& option : before.options) {
    CAPTURE(option.name);
    CHECK(near_abs(cost_of(after, option.name), option.present_cost, 1e-9));
  }
  CHECK(*after.verdict.saving == *before.verdict.saving);
}

TEST_CASE("the rule found is the best of all rules on discrete courses") {
  // Derived by enumeration: three times at which it may fail again, each with its own cost to go; all 8 ways to decide are
  // priced by hand below, and the rule found costs no more than the best span of time.
  const std::vector<double> times = {1.0, 2.5, 4.0};
  for (unsigned pattern = 0; pattern < 64; ++pattern) {
    std::vector<Trace> traces;
    for (int f = 0; f < 200; ++f) {
      Trace trace;
      for (std::size_t e = 0; e < times.size(); ++e) {
        const double stop = 40.0 + 7.0 * static_cast<double>((pattern >> (2 * e)) & 3U);
        trace.events.push_back({.its_class = StoppingRule::class_of(0, false, static_cast<int>(e)),
                                .repairs_before = static_cast<int>(e),
                                .t = times[e],
                                .cost_if_given_up = stop});
      }
      trace.cost = 47;
      traces.push_back(trace);
    }
    double best = traces[0].cost;
    for (const Trace::Event& event : traces[0].events) best = std::min(best, event.cost_if_given_up);
    const StoppingRule rule = fitted_rule(traces, 1);
    CAPTURE(pattern);
    CHECK(near_abs(cost_under(rule, traces[0]), best, 1e-9));
  }
}

TEST_SUITE_END();
