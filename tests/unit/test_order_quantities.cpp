#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include "model/exact_order.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

// Which quantities are worth a look: packs, breaks, more pieces for less money, spares.
// Every expected amount in this file is derived: worked by hand in the comment beside it.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::ladder;
using mendworth::test::minimal_case;
using mendworth::test::near_abs;
using mendworth::test::one_offer;

constexpr double kTight = 1e-9;

// Shipping free from goods of 5, a price break at 4.
// 1: 3 + 10 = 13; 2: 6 + 0 = 6; 3: 9; 4: 4 + 10 = 14; 5: 5 + 0 = 5.
Case break_and_tier() { return one_offer({{1, 3.00}, {4, 1.00}}, {{0, 10}, {5, 0}}); }

std::vector<int> cheaper_than(const Case& c, int need) {
  return cheaper_in_all(c, std::vector<Need>{{0, 0, need}}, 0, 0);
}

}  // namespace

TEST_CASE("pack quantities are the least that each offer sells") {
  Case c = minimal_case();
  std::vector<Offer>& offers = c.parts[0].candidates[0].offers;
  offers.push_back(mendworth::test::offer(0, {{10, 0.40}}));
  offers[1].least = 10;
  offers[1].multiple = 10;
  const Candidate& candidate = c.parts[0].candidates[0];
  CHECK(pack_quantities(candidate, 1) == std::vector<int>{1, 10});
  CHECK(pack_quantities(candidate, 10) == std::vector<int>{10});
  CHECK(pack_quantities(candidate, 11) == std::vector<int>{11, 20});
  offers[1].stock = 10;
  CHECK(pack_quantities(candidate, 11) == std::vector<int>{11});
  offers[0].stock = 3;
  CHECK(pack_quantities(candidate, 11).empty());
}

TEST_CASE("a tier is looked for at every step of the ladder") {
  const Case c = break_and_tier();
  const Offer& offer = c.parts[0].candidates[0].offers[0];
  const auto turning = [&](double rest, int above) {
    return turning_points(offer, c.suppliers[0], rest, above, Parcel::alone);
  };
  CHECK(turning(0, 1) == std::vector<int>{2, 4, 5});
  CHECK(turning(0, 4) == std::vector<int>{5});
  CHECK(turning(0, 5) == std::vector<int>{6});  // the tier is reached anyhow
  CHECK(turning(5, 1) == std::vector<int>{4});  // by the rest alone
}

TEST_CASE("larger quantities that cost less in all than every smaller one") {
  const Case c = break_and_tier();
  CHECK(cheaper_than(c, 1) == std::vector<int>{2, 5});
  CHECK(cheaper_than(c, 2) == std::vector<int>{5});
  CHECK(cheaper_than(c, 4) == std::vector<int>{5});
  CHECK(cheaper_than(c, 5).empty());

  // 10: 28 + 5 = 33; 11: 30.80, free: less than ten, more than one (8.20).
  const Case tier = one_offer({{1, 3.20}, {5, 3.00}, {10, 2.80}}, {{0, 5}, {30, 0}});
  CHECK(cheaper_than(tier, 10) == std::vector<int>{11});
  CHECK(cheaper_than(tier, 1).empty());

  // At a later step a tier already reached may be missed and reached again: 19 at 1.20 are 22.80, free;
  // 20 at 1.00 cost 20 + 4.90, 22 cost 22.00.
  const Case again = one_offer({{1, 1.20}, {20, 1.00}}, {{0, 4.90}, {22, 0}});
  CHECK(cheaper_than(again, 19) == std::vector<int>{22});
}

TEST_CASE("larger quantities from packs and from other suppliers may cost less in all") {
  // One: 5 + 4 = 9; a pack of ten elsewhere: 10 * 0.50 + 3 = 8, in nine days.
  Case c = one_offer({{1, 5.00}}, {{0, 4.00}});
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 3.00}}));
  c.suppliers[1].lead_days = exactly(9);
  Offer pack = mendworth::test::offer(1, {{1, 0.50}});
  pack.multiple = 10;
  c.parts[0].candidates[0].offers.push_back(pack);
  CHECK(cheaper_than(c, 1) == std::vector<int>{10});
  const std::vector<Need> one{{0, 0, 1}};
  CHECK(cheaper_in_all(c, one, 0, 0.14) == std::vector<int>{10});  // 9 + 0.28 against 8 + 1.26
  CHECK(cheaper_in_all(c, one, 0, 0.15).empty());                  // 9 + 0.30 against 8 + 1.35
}

TEST_CASE("needs that no supplier accepts are raised to what one does") {
  Case c = one_offer({{1, 4.00}}, {{0, 5.00}});
  c.suppliers[0].low_order_below = exactly(10);
  c.suppliers[0].refuses_low_orders = true;
  CHECK(cheaper_than(c, 1) == std::vector<int>{3});
  const std::vector<Need> needs = enlarged(c, {{0, 0, 1}}, 0);
  REQUIRE(needs.size() == 1);
  CHECK(needs[0].pieces == 3);
}

TEST_CASE("what costs less in all counts the rest of the order, its suppliers chosen anew") {
  Case c = one_offer({{1, 1.00}}, {{0, 4.90}, {25, 0}});
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 7.00}}));
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 20.00}}),
                                                            mendworth::test::offer(1, {{1, 12.50}})})}));
  // Two parcels: 2 + 4.90 + 12.50 + 7 = 26.40; one: 2 + 20 + 4.90 = 26.90, but with five buttons 25.00.
  const std::vector<Need> needs{{0, 0, 2}, {1, 0, 1}};
  REQUIRE(near_abs(exact_order(c, needs, 0)->cost.total, 26.40, kTight));
  CHECK(cheaper_in_all(c, needs, 0, 0) == std::vector<int>{5});
  CHECK(cheaper_in_all(c, needs, 1, 0).empty());  // two sliders cost 25 at least, beside 2 buttons
  const std::vector<Need> more = enlarged(c, needs, 0);
  CHECK(more[0].pieces == 5);
  CHECK(more[1].pieces == 1);
  CHECK(near_abs(exact_order(c, more, 0)->cost.total, 25.00, kTight));
}

TEST_CASE("orders of many lines are raised as well") {
  // 2 + 4 * 5 + 4.90 = 26.90; five buttons: 25.00.
  Case c = one_offer({{1, 1.00}}, {{0, 4.90}, {25, 0}});
  std::vector<Need> needs{{0, 0, 2}};
  for (int p = 1; p <= 4; ++p) {
    c.parts.push_back(mendworth::test::part(
        "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 5.00}})})}));
    needs.push_back({p, 0, 1});
  }
  REQUIRE(needs.size() > most_lines_divided_anew);
  CHECK(cheaper_in_all(c, needs, 0, 0) == std::vector<int>{5});
  CHECK(cheaper_in_all(c, needs, 1, 0).empty());  // 7 + 20 + 0 = 27
  const std::vector<Need> more = enlarged(c, needs, 0);
  CHECK(more[0].pieces == 5);
  for (std::size_t i = 1; i < more.size(); ++i) CHECK(more[i].pieces == 1);
}

TEST_CASE("stocking quantities: one, two, three, five and eight spares, and breaks") {
  Case c = one_offer({{1, 0.62}, {10, 0.51}, {25, 0.44}, {100, 0.33}}, {{0, 4.90}});
  Candidate& candidate = c.parts[0].candidates[0];
  CHECK(stocking_quantities(candidate, 1, 0, 9) == std::vector<int>{1, 2, 3, 4, 6, 9, 10, 25});
  CHECK(stocking_quantities(candidate, 1, 1, 9) == std::vector<int>{2, 3, 4, 6, 9, 10, 25});
  CHECK(stocking_quantities(candidate, 1, 0, 4) == std::vector<int>{1, 2, 3, 10});  // one spare, break, two
  CHECK(stocking_quantities(candidate, 30, 0, 9) == std::vector<int>{30, 31, 32, 33, 35, 38, 100});
  CHECK(stocking_quantities(candidate, 1, 0, 0).empty());

  candidate.offers[0].multiple = 4;  // 1 to 4 pieces: 4; 6: 8; 9 and 10: 12; 25: 28
  CHECK(stocking_quantities(candidate, 1, 0, 9) == std::vector<int>{4, 8, 12, 28});
  candidate.offers[0].stock = 11;
  CHECK(stocking_quantities(candidate, 1, 0, 9) == std::vector<int>{4, 8});
  CHECK(stocking_quantities(candidate, std::numeric_limits<int>::max(), 0, 9).empty());
}
