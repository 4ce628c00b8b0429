// The customer's side of a quote.
#include <doctest/doctest.h>

#include "answers/option_results.hpp"
#include "quote/owner.hpp"
#include "quote/refusal.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::minimal_case;
using mendworth::test::near_abs;

namespace {

constexpr WeighSettings settings{.seed = 3, .futures = 4000, .threads = 2};

struct Held {
  ModelCache cache;
  Contest contest;
  std::vector<JobPlan> plans;

  explicit Held(const Case& c)
      : contest(c, built_in_rates(), {}, settings, {.futures = settings.futures}, cache) {
    plans = job_plans(contest, Shop{}, false);
  }
  [[nodiscard]] OwnerView view(const std::vector<Payments>& payments, double rate,
                               double declining = 0) const {
    return owner_view(contest, plans, payments,
                      {.seed = settings.seed,
                       .futures = settings.futures,
                       .threads = 2,
                       .charge_rate = rate,
                       .declining = declining});
  }
};

}  // namespace

TEST_CASE("who pays what the repair costs saves what weighing it says") {
  // Derived: with no luck at the bench, no spares and the same rate, paying cost_now instead of bearing it changes
  // nothing, future by future.
  const Held held(minimal_case());
  const auto costs = held.contest.mean_costs();
  const auto repair = held.contest.best_repair(costs).value();
  const auto replacement = held.contest.best_replacement(costs).value();
  const double cost_now = option_result(held.contest, repair).cost_now;
  const OwnerView view = held.view({{.cured = cost_now}}, 30);
  REQUIRE(view.savings.size() == 1);
  CHECK(near_abs(view.savings[0].mean, costs[replacement] - costs[repair], 1e-6));
  CHECK(near_abs(view.savings[0].cure_chance, 1.0, 1e-12));
}

TEST_CASE("each unit more to pay is a unit less saved, as often as it is paid") {
  Case c = minimal_case();
  c.risks.diagnosis_right = exactly(0.7);
  const Held held(c);
  const OwnerView cheap = held.view({{.cured = 40, .not_cured = 10}}, 30);
  const OwnerView dear = held.view({{.cured = 50, .not_cured = 10}}, 30);
  const double p = cheap.savings[0].cure_chance;
  CHECK(near_abs(p, 0.7, 0.03));
  CHECK(near_abs(cheap.savings[0].mean - dear.savings[0].mean, 10 * p, 1e-9));
  const OwnerView uncured = held.view({{.cured = 40, .not_cured = 20}}, 30);
  CHECK(near_abs(cheap.savings[0].mean - uncured.savings[0].mean, 10 * (1 - p), 1e-9));
}

TEST_CASE("what is to pay for declining is saved by whoever does not") {
  // Derived: it is paid once, now, for whatever is done instead.
  const Held held(minimal_case());
  const OwnerView free = held.view({{.cured = 40}}, 30), charged = held.view({{.cured = 40}}, 30, 15);
  CHECK(near_abs(charged.savings[0].mean - free.savings[0].mean, 15, 1e-9));
  CHECK(near_abs(charged.instead_cost - free.instead_cost, 15, 1e-9));
  CHECK(charged.savings[0].cheaper_share >= free.savings[0].cheaper_share);
}

TEST_CASE("a dearer hour of later repairs never raises what the owner saves") {
  const Held held(minimal_case());
  double last = held.view({{.cured = 30}}, 0).savings[0].mean;
  for (const double rate : {20.0, 40.0, 80.0, 160.0}) {
    const double now = held.view({{.cured = 30}}, rate).savings[0].mean;
    CHECK(now <= last + 1e-9);
    last = now;
  }
}

TEST_CASE("a device that must be kept, or that has no price, is not compared") {
  Case kept = minimal_case();
  kept.device.must_keep = true;
  CHECK(Held(kept).view({{.cured = 30}}, 30).savings.empty());
  Case unpriced = minimal_case();
  unpriced.replacements[0].price.reset();
  CHECK(Held(unpriced).view({{.cured = 30}}, 30).savings.empty());
}

TEST_CASE("the customer is told no more than the futures bear out") {
  OwnerView view;
  CHECK_FALSE(owner_judgement(view, 0));
  view.savings = {{.mean = 10, .error = 1, .cure_chance = 1, .cheaper_share = 0.8}};
  CHECK(owner_judgement(view, 0) == Confidence::clear);
  view.savings[0].cheaper_share = 0.79;
  CHECK(owner_judgement(view, 0) == Confidence::leaning);
  view.savings[0].cheaper_share = 0.36;
  CHECK(owner_judgement(view, 0) == Confidence::toss_up);
  view.savings[0] = {.mean = -1, .error = 1, .cure_chance = 1, .cheaper_share = 0.9};
  CHECK(owner_judgement(view, 0) == Confidence::toss_up);
}

TEST_CASE("the share of futures in which a repair is the cheaper one follows from what is paid") {
  // Derived: what costs nothing is always cheaper, what costs more than any future could, never.
  const Held held(minimal_case());
  CHECK(near_abs(held.view({{.cured = -1000}}, 30).savings[0].cheaper_share, 1, 1e-9));
  CHECK(held.view({{.cured = 1e6}}, 30).savings[0].cheaper_share == 0);
}
