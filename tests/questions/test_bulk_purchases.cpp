// Once or again and again, the drawer, several suppliers, the devices that are broken now.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/render.hpp"
#include "numeric/demand.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"
#include "support/page_text.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

namespace {

/// Two jobs a month, a button each, for the two years that a button keeps.
Case two_a_month() {
  Case c = test::one_offer({{1, 1.00}, {10, 0.80}, {100, 0.50}}, {{0, 4.00}});
  c.parts[0].shelf_life_years = test::exactly(2);
  c.bulk = Bulk{};
  c.bulk->jobs_per_month = test::exactly(2);
  c.bulk->order_cost = 5;
  c.bulk->shortage_cost = 6;
  return c;
}

/// The same, and a second supplier who is dearer for few and cheaper for many.
Case two_suppliers() {
  Case c = two_a_month();
  c.suppliers.push_back(test::supplier("Lark Parts", {{0, 9.00}}));
  c.parts[0].candidates[0].offers.push_back(test::offer(1, {{1, 1.50}, {50, 0.30}}));
  return c;
}

BulkScenario ask_first(const Case& c, const BulkSettings& settings = {.futures = 256, .policy_futures = 32}) {
  return bulk_what_if(c, built_in_rates(), settings).scenarios.front();
}

}  // namespace

TEST_SUITE_BEGIN("questions: bulk purchases");

// Derived: orders of q whenever r are left, n(D) = 1 + floor((D - (s - r)) / q) of them after the first one of s = q for D
// jobs; half an order and what is left beyond the lead time's jobs are kept; what is left in the end is as good as new.
TEST_CASE("once or again and again, over the same time") {
  const BulkScenario scenario = ask_first(two_a_month());
  const BulkLadder& ladder = scenario.ladders.front();
  REQUIRE(ladder.repeated);
  const RepeatedOrders& r = *ladder.repeated;
  const int q = r.quantity, left = r.reorder_point;
  REQUIRE(q > left);
  const Demand demand = Demand::poisson(48), lead = Demand::poisson(24 * 2 / 365.25);
  double orders = 0;
  for (int d = q - left; d <= demand.largest(); ++d) orders += demand.chance(d) * (1 + (d - (q - left)) / q);
  const double each = r.landed / q;
  const double cost = r.landed * (1 + orders) + 5 * (1 + orders) +
                      0.2 * each * 2 * (q / 2.0 + left - lead.mean()) +
                      6 * orders * lead.expected_shortage(left) - each * (q + q * orders - 48);
  CHECK(near_rel(r.cost, cost, 1e-9));
  REQUIRE(scenario.choices.size() == 1);
  const BulkChoice& choice = scenario.choices.front();
  CHECK(choice.again == (cost < ladder.best.cost));
  CHECK(near_rel(choice.cost, std::min(cost, ladder.best.cost), 1e-9));
  REQUIRE(choice.other);
  CHECK(near_rel(*choice.other, std::max(cost, ladder.best.cost), 1e-9));
}

// Derived: nothing costs to order, and pieces keep their price: then small orders win; where each order costs 100, one does.
TEST_CASE("what an order costs decides between once and again and again") {
  Case c = two_a_month();
  c.parts[0].candidates[0].offers[0].prices = test::ladder({{1, 1.00}});
  c.suppliers[0].shipping = test::tiers({{0, 0}});
  c.bulk->order_cost = 0;
  CHECK(ask_first(c).choices.front().again);
  c.bulk->order_cost = 100;
  c.bulk->shortage_cost = 110;
  CHECK_FALSE(ask_first(c).choices.front().again);
}

// Derived: half a job in two years, Poisson: one comes in 39.3 % of the cases, a second one in 9.0 %. For a piece of 20 that
// nobody takes back, where going without costs 150, the first one pays (59 against 20) and the second does not (13.5).
TEST_CASE("one piece may be the best single purchase") {
  Case c = two_a_month();
  c.bulk->jobs_per_month = test::exactly(0.5 / 24);
  c.bulk->order_cost = 0;
  c.bulk->shortage_cost = 150;
  c.parts[0].candidates[0].offers[0].prices = test::ladder({{1, 20.00}});
  c.suppliers[0].shipping = test::tiers({{0, 0}});
  const BulkRow best = ask_first(c).ladders.front().best;
  CHECK(best.quantity == 1);
  CHECK(near_abs(best.suffices, std::exp(-0.5) * 1.5, 1e-9));
}

// Derived: thirty at hand serve the first thirty jobs, so that 48 jobs leave what is beyond thirty to be bought.
TEST_CASE("the drawer is used first") {
  Case c = two_a_month();
  c.parts[0].candidates[0].on_hand = 30;
  const BulkScenario scenario = ask_first(c);
  const Demand demand = Demand::poisson(48);
  CHECK(scenario.demand.front().drawer == 30);
  CHECK(near_rel(scenario.demand.front().mean, 48, 1e-9));
  for (const BulkRow& row : scenario.ladders.front().rows) {
    CHECK(near_abs(row.suffices, demand.at_most(30 + row.quantity), 1e-12));
    CHECK(near_abs(row.short_pieces, demand.expected_shortage(30 + row.quantity), 1e-9));
  }
  CHECK(scenario.ladders.front().best.quantity < ask_first(two_a_month()).ladders.front().best.quantity);
  c.parts[0].candidates[0].on_hand = 200;
  CHECK(ask_first(c).ladders.front().best.quantity == 0);
}

// Derived: ten devices, four broken; a place each; until these are back as many units are missing from the start.
TEST_CASE("devices that are broken now want units too") {
  Case c = test::one_offer({{1, 1.00}}, {{0, 4.00}});
  c.bulk = Bulk{};
  c.bulk->devices = 10;
  c.bulk->failed = 4;
  c.bulk->repair_days = 5;
  const BulkAnswer answer = bulk_what_if(c, built_in_rates(), {.futures = 256, .policy_futures = 32});
  const SwapOut& swap = answer.scenarios.front().swap_out;
  CHECK(swap.broken_now == 4);
  CHECK(swap.units_at_first == swap.units + 4);
  for (const SwapOutRow& row : swap.rows) {
    if (row.units < 4) CHECK(row.cover_at_first == 0);
    CHECK(row.cover_at_first <= row.cover);
  }
  CHECK(testing::contains(bulk_page(answer, {}), "until the 4 broken now are back"));
}

// Each offer alone is what the case with this supplier alone says.
TEST_CASE("suppliers side by side") {
  const Case both = two_suppliers();
  const BulkAnswer answer = bulk_what_if(both, built_in_rates(), {});
  const BulkScenario& scenario = answer.scenarios.front();
  REQUIRE(scenario.offers.size() == 2);
  for (std::size_t i = 0; i < 2; ++i) {
    Case one = both;
    one.parts[0].candidates[0].offers = {both.parts[0].candidates[0].offers[i]};
    const BulkLadder ladder = ask_first(one).ladders.front();
    const BulkOffer& offer = scenario.offers[i];
    CHECK(offer.supplier == both.suppliers[i].name);
    CHECK(offer.best.quantity == ladder.best.quantity);
    CHECK(offer.best.cost == ladder.best.cost);
    CHECK(offer.again == (ladder.repeated ? std::optional(ladder.repeated->cost) : std::nullopt));
    CHECK(scenario.ladders.front().best.cost <= offer.best.cost);
  }
  // Derived: 50 from the second cost 15 + 9 and serve E min(50, D) jobs.
  const Demand demand = Demand::poisson(48);
  const auto& points = scenario.offers[1].points;
  const auto fifty =
      std::find_if(points.begin(), points.end(), [](const BulkPoint& p) { return p.quantity == 50; });
  REQUIRE(fifty != points.end());
  CHECK(near_rel(fifty->per_used, 24.0 / (48 - demand.expected_shortage(50)), 1e-9));
  const std::string page = bulk_page(answer, {.show = {"all"}});
  CHECK(testing::contains(page, "What a piece that is used costs"));
  CHECK(testing::widest_line(page) <= 80);
}

TEST_CASE("what outlasts the shelf life is said") {
  BulkSettings settings;
  settings.quantities = {100};
  const std::string page =
      bulk_page(bulk_what_if(two_a_month(), built_in_rates(), settings), {.show = {"buy"}});
  CHECK(testing::contains(page, "yet 'button' keeps 2 years"));
}

// Derived: two at 0.20 cost less than one at 1.00, in the same parcel for 4.00.
TEST_CASE("quotations join what is bought for a repair") {
  Case c = test::minimal_case();
  add_offers(c, read_quotation("candidate,from,each,least\ntall button,1,0.20,2\n", "offer.csv", {}));
  const Buying b = buy(c, built_in_rates(), {.futures = 256});
  REQUIRE_FALSE(b.baskets.empty());
  CHECK(near_abs(b.baskets.front().landed, 2 * 0.20 + 4.00, 1e-9));
  CHECK_THROWS_AS(add_offers(c, read_quotation("candidate,from,each\nother,1,1\n", "q.csv", {})), InputError);
}

TEST_SUITE_END();
