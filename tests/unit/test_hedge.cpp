// A second candidate ordered beside the first, for the case that the first does not fit.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "model/trial_order.hpp"
#include "support/near.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

// Figures of the threshold: a part of 3.45, postage 6.90, a wait of two days at 2.50, so 5.00.
constexpr double part_price = 3.45, postage = 6.90, wait = 5.00;
constexpr double new_device = 80 + wait;  // delivered in two days as well
// Ordering both costs one part more; it saves that part, the postage and the wait where the first does not fit.
const double threshold = part_price / (part_price + postage + wait);  // 22.5 %

/// Two candidates at the same price, each a misfit with the same chance; own time is free and nothing else happens.
Case two_candidates(double misfit) {
  Case c = one_position(1e12, 2.0, 5.0, 0.0);
  c.suppliers[0].shipping = tiers({{0, postage}});
  c.downtime.per_day = exactly(2.50);
  c.labour.rate_per_hour = exactly(0);
  auto& candidates = c.parts[0].candidates;
  candidates[0].offers[0].prices = ladder({{1, part_price}});
  candidates[0].fit = exactly(1 - misfit);
  candidates.push_back(candidates[0]);
  candidates[1].name = "flat button";
  return c;
}

const Option& find(const Bench& bench, int candidate, int hedge) {
  for (const auto& group : bench.groups) {
    for (const auto& option : group) {
      const auto& supply = option.plan.supplies[0];
      if (option.plan.family == Family::failed_only && option.plan.later_limit == no_limit &&
          supply.candidate == candidate && supply.hedge_candidate == hedge) {
        return option;
      }
    }
  }
  throw std::logic_error("no such purchase");
}

int hedged_purchases(const Case& c) {
  const Bench bench(c);
  int found = 0;
  for (const auto& group : bench.groups) {
    for (const auto& option : group) found += option.plan.supplies[0].hedge_pieces > 0 ? 1 : 0;
  }
  return found;
}

bool orders_both(const Case& c) {
  const auto w = weigh(c, RateBook{}, {.seed = 5, .futures = 4000, .threads = 1});
  REQUIRE(w.order);
  return w.order->hedge.has_value();
}

}  // namespace

TEST_SUITE_BEGIN("hedge");

TEST_CASE("one after the other and both at once cost what the closed form says") {
  // Derived: with misfit chance q of each, independent, F for giving up when nothing fits:
  // one after the other: B + q B + q^2 F, B = part + postage + wait; both at once: B + part + q^2 F.
  for (const double q : {0.25, 0.4, 0.6}) {  // a hedge that cannot pay is not tried
    CAPTURE(q);
    const Bench bench(two_candidates(q));
    const double one_order = part_price + postage + wait;
    const auto plain = bench.run(find(bench, 0, -1), 100'000);
    const auto both = bench.run(find(bench, 0, 1), 100'000);
    CHECK(near_abs(plain.mean_cost(0), one_order * (1 + q) + q * q * new_device, 4 * plain.cost_error(0)));
    CHECK(near_abs(both.mean_cost(0), one_order + part_price + q * q * new_device, 4 * both.cost_error(0)));
  }
}

TEST_CASE("both are ordered from the chance of misfit on that pays for the second") {
  CHECK(near_abs(threshold, 0.2248, 1e-4));
  for (const double q : {0.02, 0.10, 0.19}) {
    CAPTURE(q);
    CHECK_FALSE(orders_both(two_candidates(q)));
  }
  for (const double q : {0.26, 0.40, 0.70}) {
    CAPTURE(q);
    CHECK(orders_both(two_candidates(q)));
  }
}

TEST_CASE("a misfit found after closing costs its opening with and without a hedge") {
  // Derived: the closed device is opened again either way, so the second opening V and its work come on top of both
  // courses: V q for the first candidate, V q^2 for the second. What the hedge saves stays as it was.
  const double q = 0.3;
  Case c = two_candidates(q);
  c.labour.rate_per_hour = exactly(60);
  c.labour.case_minutes = exactly(0);
  c.labour.visit_minutes = exactly(20);
  c.positions[0].minutes = exactly(3);
  c.risks.misfit_found_after_closing = exactly(1);
  const double opening = 23, once = part_price + postage + wait;
  const Bench bench(c);
  const auto plain = bench.run(find(bench, 0, -1), 100'000);
  const auto both = bench.run(find(bench, 0, 1), 100'000);
  // The visit is paid in any case, the work on the position only if something fits.
  const double common = opening * (q + q * q) + 20 + 3 * (1 - q * q) + q * q * new_device;
  CHECK(near_abs(plain.mean_cost(0), once * (1 + q) + common, 4 * plain.cost_error(0)));
  CHECK(near_abs(both.mean_cost(0), once + part_price + common, 4 * both.cost_error(0)));
}

TEST_CASE("the answer names the hedge, what it costs and what it is worth") {
  const double q = 0.4;
  const auto w = weigh(two_candidates(q), RateBook{}, {.seed = 5, .futures = 4000, .threads = 1});
  REQUIRE(w.order);
  REQUIRE(w.order->hedge);
  REQUIRE(w.order->lines.size() == 2);
  const auto& hedge = *w.order->hedge;
  CHECK(near_abs(hedge.misfit_chance, q, 1e-12));
  CHECK(near_abs(hedge.cost, part_price, 1e-9));
  // It is worth an order and its wait in 40 % of futures; 4 standard errors of that share over 4000 futures.
  const double order = part_price + postage + wait;
  CHECK(near_abs(hedge.worth, q * order, 4 * order * std::sqrt(q * (1 - q) / 4000)));
  const auto count = [&](const std::string& name) {
    return std::count_if(w.order->lines.begin(), w.order->lines.end(),
                         [&](const OrderLine& line) { return line.hedge_for == name; });
  };
  CHECK(count("") == 1);
  CHECK(count("tall button") + count("flat button") == 1);
  // Both pieces are for this job: nothing is left over.
  CHECK(w.order->leftovers == 0);
  CHECK(near_abs(w.order->charged_pro_rata, w.order->charged_whole, 1e-9));
}

TEST_CASE("a hedge that is not needed serves other jobs alone") {
  // Derived: the first candidate fits, so with resale 2.00 and no other use, no discount, the hedge ends as 2.00.
  Case c = two_candidates(0.5);
  c.parts[0].spare_resale = exactly(2.00);
  const Bench bench(c);
  auto certain = find(bench, 0, 1);
  const auto both = bench.run(certain, 20'000);
  certain.plan.supplies[0].hedge_pieces = 0;
  const auto thrown_away = bench.run(certain, 20'000);
  // Half of the futures: fits, 2.00 more. The others: an order saved (the flat button may still not fit).
  double fitting = 0, other = 0;
  for (std::size_t f = 0; f < both.costs[0].size(); ++f) {
    const double difference = thrown_away.costs[0][f] - both.costs[0][f];
    if (near_abs(difference, 2.00, 1e-9)) ++fitting;
    if (near_abs(difference, part_price + postage + wait, 1e-9)) ++other;
  }
  CHECK(fitting + other == 20'000);
  CHECK(near_abs(fitting / 20'000, 0.5, 4 * 0.5 / std::sqrt(20'000.0)));
}

TEST_CASE("hedges are offered both ways round, and only where the first may not fit") {
  const Bench bench(two_candidates(0.3));
  CHECK_NOTHROW(find(bench, 0, 1));
  CHECK_NOTHROW(find(bench, 1, 0));
  CHECK(hedged_purchases(two_candidates(0.3)) > 0);
  CHECK(hedged_purchases(two_candidates(0.0)) == 0);
  Case one = two_candidates(0.3);
  one.parts[0].candidates.pop_back();
  CHECK(hedged_purchases(one) == 0);
  Case hopeless = two_candidates(0.3);
  hopeless.parts[0].candidates[1].fit = exactly(0);
  for (const auto& group : Bench(hopeless).groups) {
    for (const auto& option : group) CHECK(option.plan.supplies[0].hedge_candidate != 1);
  }
}

TEST_CASE("however many candidates, the hedged purchases stay few and it is said") {
  Case c = two_candidates(0.3);
  for (int k = 0; k < 7; ++k) c.parts[0].candidates.push_back(c.parts[0].candidates[0]);
  const Bench bench(c);
  for (const auto& group : bench.groups) CHECK(group.size() <= 48 + 24);
  const auto is_it = [](const std::string& note) {
    return note.find("second candidate") != std::string::npos;
  };
  CHECK(std::any_of(bench.notes.begin(), bench.notes.end(), is_it));
}

TEST_CASE("after a misfit the next candidate is the one that costs least until one fits") {
  // Derived: (order + wait) / fit. Postage 6.90 and wait 5.00 for each: B 13.90/0.2 = 69.5, C 21.90/0.9 = 24.3,
  // D 14.90/0.5 = 29.8.
  Case c = two_candidates(0.3);
  auto& candidates = c.parts[0].candidates;
  const auto set = [&](std::size_t k, double price, double fit) {
    candidates[k].offers[0].prices = ladder({{1, price}});
    candidates[k].fit = exactly(fit);
  };
  candidates.push_back(candidates[0]);
  candidates.push_back(candidates[0]);
  set(1, 2.00, 0.2);
  set(2, 10.00, 0.9);
  set(3, 3.00, 0.5);
  const Bench bench(c);
  CHECK(find(bench, 0, -1).plan.supplies[0].trial == std::vector<int>{0, 2, 3, 1});
  CHECK(find(bench, 0, 1).plan.supplies[0].trial == std::vector<int>{0, 1, 2, 3});
  CHECK(find(bench, 2, -1).plan.supplies[0].trial == std::vector<int>{2, 0, 3, 1});  // A: 15.35/0.7 = 21.9
}

TEST_SUITE_END();
