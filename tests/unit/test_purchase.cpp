#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include "model/purchase.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

// Every expected amount in this file is derived: worked by hand in the comment beside it.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::ladder;
using mendworth::test::minimal_case;
using mendworth::test::near_abs;
using mendworth::test::tiers;

constexpr double kCent = 0.005;
constexpr double kTight = 1e-9;

// One part, one supplier, one ladder.
Case one_offer(const std::vector<std::pair<int, double>>& prices,
               const std::vector<std::pair<double, double>>& shipping) {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder(prices);
  c.suppliers[0].shipping = tiers(shipping);
  return c;
}

std::optional<LandedCost> landed(const Case& c, int quantity) {
  const OrderItem item{0, 0, 0, quantity};
  return landed_cost(c, std::span<const OrderItem>(&item, 1));
}

double total(const Case& c, int quantity) {
  const std::optional<LandedCost> cost = landed(c, quantity);
  REQUIRE(cost.has_value());
  return cost->total;
}

double sum_of_parts(const LandedCost& cost) {
  return cost.goods + cost.shipping + cost.fees + cost.duty + cost.tax + cost.exchange_fee;
}

}  // namespace

TEST_CASE("unit price is that of the highest break not above the quantity") {
  const Offer offer = mendworth::test::offer(0, {{5, 2.00}, {10, 1.50}, {100, 0.75}});
  CHECK(unit_price(offer, 1) == 2.00);  // below the first break: the first price
  CHECK(unit_price(offer, 5) == 2.00);
  CHECK(unit_price(offer, 9) == 2.00);
  CHECK(unit_price(offer, 10) == 1.50);
  CHECK(unit_price(offer, 99) == 1.50);
  CHECK(unit_price(offer, 100) == 0.75);
  CHECK(unit_price(offer, 1'000'000) == 0.75);
}

TEST_CASE("allowed quantities respect least, multiple and stock") {
  Offer offer = mendworth::test::offer(0, {{1, 1.00}});
  CHECK(is_allowed(offer, 1));
  CHECK_FALSE(is_allowed(offer, 0));
  CHECK_FALSE(is_allowed(offer, -5));

  offer.least = 12;
  offer.multiple = 5;
  offer.stock = 22;
  CHECK_FALSE(is_allowed(offer, 10));  // below the least quantity
  CHECK_FALSE(is_allowed(offer, 12));  // no multiple
  CHECK(is_allowed(offer, 15));
  CHECK(is_allowed(offer, 20));
  CHECK_FALSE(is_allowed(offer, 25));  // beyond the stock

  CHECK(least_allowed(offer, 1) == 15);
  CHECK(least_allowed(offer, 15) == 15);
  CHECK(least_allowed(offer, 16) == 20);
  CHECK_FALSE(least_allowed(offer, 21).has_value());  // 25 are not in stock
  offer.stock = 0;
  CHECK_FALSE(least_allowed(offer, 1).has_value());
}

TEST_CASE("least allowed quantity near the largest integer is absent, not negative") {
  constexpr int most = std::numeric_limits<int>::max();
  Offer offer = mendworth::test::offer(0, {{1, 1.00}});
  CHECK(least_allowed(offer, most) == most);
  offer.multiple = 10;
  CHECK_FALSE(least_allowed(offer, most).has_value());
}

TEST_CASE("price ladder with shipping and tax, to the cent") {
  Case c = one_offer({{1, 0.62}, {10, 0.51}, {25, 0.44}, {100, 0.33}}, {{0, 4.90}});
  c.suppliers[0].tax = exactly(0.20);
  struct Row {
    int quantity;
    double landed;
  };
  // (quantity * price + 4.90) * 1.2
  const Row rows[] = {
      {1, 6.624},    // (0.62 + 4.90) * 1.2
      {2, 7.368},    // (1.24 + 4.90) * 1.2
      {3, 8.112},    // (1.86 + 4.90) * 1.2
      {9, 12.576},   // (5.58 + 4.90) * 1.2
      {10, 12.00},   // (5.10 + 4.90) * 1.2: ten cost less than nine
      {25, 19.08},   // (11.00 + 4.90) * 1.2
      {100, 45.48},  // (33.00 + 4.90) * 1.2
  };
  for (const Row& row : rows) {
    CAPTURE(row.quantity);
    CHECK(near_abs(total(c, row.quantity), row.landed, kTight));
  }
}

TEST_CASE("shipping falls at each tier, free from a threshold") {
  const Case c = one_offer({{1, 2.50}}, {{0, 4.90}, {25, 2.50}, {50, 0}});
  CHECK(near_abs(total(c, 9), 27.40, kTight));   // 22.50 + 4.90
  CHECK(near_abs(total(c, 10), 27.50, kTight));  // 25.00 + 2.50
  CHECK(near_abs(total(c, 19), 50.00, kTight));  // 47.50 + 2.50
  CHECK(near_abs(total(c, 20), 50.00, kTight));  // 50.00, free
}

TEST_CASE("a limit reached to the cent is reached, although binary sums miss it") {
  Case c = one_offer({{1, 0.1}}, {{0, 5}, {0.8, 0}});
  c.parts[0].candidates[0].offers[0].line_fee = exactly(0.7);
  REQUIRE(0.1 + 0.7 < 0.8);  // in doubles
  CHECK(near_abs(total(c, 1), 0.80, kTight));
  c.parts[0].candidates[0].offers[0].line_fee = exactly(0.69);
  CHECK(near_abs(total(c, 1), 5.79, kTight));

  Case free_limit = one_offer({{1, 0.1}}, {{0, 0}});
  free_limit.suppliers[0].duty = exactly(0.5);
  free_limit.suppliers[0].duty_free_up_to = exactly(0.3);
  REQUIRE(3 * 0.1 > 0.3);  // in doubles
  CHECK(near_abs(total(free_limit, 3), 0.30, kTight));
  CHECK(near_abs(total(free_limit, 4), 0.60, kTight));  // 0.40 * 1.5
}

TEST_CASE("low-order fee below the limit, taxed") {
  Case c = one_offer({{1, 5.00}}, {{0, 4.00}});
  c.suppliers[0].low_order_below = exactly(15);
  c.suppliers[0].low_order_fee = exactly(3);
  c.suppliers[0].tax = exactly(0.10);
  const std::optional<LandedCost> low = landed(c, 2);
  REQUIRE(low.has_value());
  CHECK(near_abs(low->fees, 3.00, kTight));
  CHECK(near_abs(low->tax, 1.70, kTight));  // (10 + 4 + 3) * 0.1
  CHECK(near_abs(low->total, 18.70, kTight));
  CHECK(near_abs(total(c, 3), 20.90, kTight));  // (15 + 4) * 1.1: the limit itself is not below
}

TEST_CASE("a supplier that refuses low orders sells from the limit on") {
  Case c = one_offer({{1, 5.00}}, {{0, 4.00}});
  c.suppliers[0].low_order_below = exactly(15);
  c.suppliers[0].refuses_low_orders = true;
  CHECK_FALSE(landed(c, 2).has_value());
  CHECK(near_abs(total(c, 3), 19.00, kTight));
  c.suppliers[0].other_goods = 5;  // 10 + 5 reach the limit; shipping is shared 2 : 1
  CHECK(near_abs(total(c, 2), 10 + 4 * 2.0 / 3, kTight));
}

TEST_CASE("duty only beyond the free limit, with the carrier's handling untaxed") {
  Case c = one_offer({{1, 1.00}}, {{0, 5.00}});
  Supplier& s = c.suppliers[0];
  s.tax = exactly(0.20);
  s.duty = exactly(0.10);
  s.duty_free_up_to = exactly(150);
  s.customs_fee = exactly(12);

  const std::optional<LandedCost> at_limit = landed(c, 145);
  REQUIRE(at_limit.has_value());
  CHECK(at_limit->duty == 0);
  CHECK(at_limit->fees == 0);
  CHECK(near_abs(at_limit->total, 180.00, kTight));  // 150 * 1.2

  const std::optional<LandedCost> above = landed(c, 146);
  REQUIRE(above.has_value());
  CHECK(near_abs(above->duty, 15.10, kTight));  // 151 * 0.1
  CHECK(near_abs(above->tax, 33.22, kTight));   // (151 + 15.10) * 0.2
  CHECK(near_abs(above->fees, 12.00, kTight));
  CHECK(near_abs(above->total, 211.32, kTight));  // 151 + 15.10 + 33.22 + 12

  s.duty_on_shipping = false;
  CHECK(near_abs(total(c, 150), 186.00, kTight));  // (150 + 5) * 1.2: goods alone are within the limit
  const std::optional<LandedCost> goods_only = landed(c, 151);
  REQUIRE(goods_only.has_value());
  CHECK(near_abs(goods_only->duty, 15.10, kTight));  // 151 * 0.1, shipping left out
}

TEST_CASE("exchange rate on everything, exchange fee on what the supplier is paid") {
  Case c = one_offer({{1, 10.00}}, {{0, 5.00}});
  Supplier& s = c.suppliers[0];
  s.tax = exactly(0.20);
  s.exchange_rate = exactly(0.92);
  s.exchange_fee = exactly(0.015);
  const std::optional<LandedCost> plain = landed(c, 1);
  REQUIRE(plain.has_value());
  CHECK(near_abs(plain->goods, 9.20, kTight));           // 10 * 0.92
  CHECK(near_abs(plain->shipping, 4.60, kTight));        // 5 * 0.92
  CHECK(near_abs(plain->tax, 2.76, kTight));             // 15 * 0.2 * 0.92
  CHECK(near_abs(plain->exchange_fee, 0.2484, kTight));  // 18 * 0.92 * 0.015
  CHECK(near_abs(plain->total, 16.8084, kTight));

  s.duty = exactly(0.10);  // no free limit: always due
  s.customs_fee = exactly(8);
  const std::optional<LandedCost> dutiable = landed(c, 1);
  REQUIRE(dutiable.has_value());
  CHECK(near_abs(dutiable->duty, 1.38, kTight));  // 15 * 0.1 * 0.92
  CHECK(near_abs(dutiable->fees, 7.36, kTight));  // 8 * 0.92
  CHECK(near_abs(dutiable->tax, 3.036, kTight));  // (15 + 1.5) * 0.2 * 0.92
  CHECK(
      near_abs(dutiable->exchange_fee, 0.2484, kTight));  // paid at the doorstep: no fee on duty and its tax
  CHECK(near_abs(dutiable->total, 25.8244, kTight));      // 9.20 + 4.60 + 7.36 + 1.38 + 3.036 + 0.2484
}

TEST_CASE("goods for other jobs raise the tier and bear their share") {
  Case c = one_offer({{1, 10.00}}, {{0, 6.00}, {25, 4.00}});
  Supplier& s = c.suppliers[0];
  s.tax = exactly(0.20);
  s.other_goods = 30;
  CHECK(near_abs(total(c, 1), 13.20, kTight));  // (10 + 4 * 10/40) * 1.2

  s.other_goods = 5;  // parcel of 15, below both limits
  s.low_order_below = exactly(20);
  s.low_order_fee = exactly(3);
  CHECK(near_abs(total(c, 1), 19.20, kTight));  // (10 + (6 + 3) * 10/15) * 1.2

  s.low_order_below = exactly(0);
  s.duty = exactly(0.10);
  s.duty_free_up_to = exactly(150);
  s.customs_fee = exactly(12);
  s.other_goods = 140;  // 150 + shipping 4 exceed the limit only together
  // Share 10/150: shipping 4/15, duty (10 + 4/15) * 0.1, handling 12/15.
  const double ship = 4.0 / 15;
  const double duty = (10 + ship) * 0.1;
  CHECK(near_abs(total(c, 1), (10 + ship + duty) * 1.2 + 0.8, kTight));
}

TEST_CASE("free goods beside paid ones bear nothing, alone they bear the whole shipping") {
  Case c = one_offer({{1, 0.00}}, {{0, 6.00}});
  CHECK(near_abs(total(c, 1), 6.00, kTight));
  c.suppliers[0].other_goods = 20;
  CHECK(total(c, 1) == 0);
}

TEST_CASE("line fee is part of the goods") {
  Case c = one_offer({{1, 2.00}}, {{0, 4.00}, {10, 1.00}});
  c.parts[0].candidates[0].offers[0].line_fee = exactly(7);
  c.suppliers[0].tax = exactly(0.10);
  CHECK(near_abs(total(c, 1), 14.30, kTight));  // (2 + 7 + 4) * 1.1
  CHECK(near_abs(total(c, 2), 13.20, kTight));  // (4 + 7 + 1) * 1.1: the fee lifts the order to the tier
}

TEST_CASE(
    "lines at one supplier share a parcel, parcels of two suppliers add up, the slower one is waited for") {
  Case c = minimal_case();
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 7.00}}));
  c.suppliers[1].lead_days = exactly(9);
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 3.00}}),
                                                            mendworth::test::offer(1, {{1, 2.00}})})}));
  const std::vector<OrderItem> together{{0, 0, 0, 2}, {1, 0, 0, 1}};
  const std::optional<LandedCost> one_parcel = landed_cost(c, together);
  REQUIRE(one_parcel.has_value());
  CHECK(near_abs(one_parcel->total, 9.00, kTight));  // 2 + 3 + 4
  CHECK(one_parcel->wait_days == 2);

  const std::vector<OrderItem> apart{{0, 0, 0, 2}, {1, 0, 1, 1}};
  const std::optional<LandedCost> two_parcels = landed_cost(c, apart);
  REQUIRE(two_parcels.has_value());
  CHECK(near_abs(two_parcels->total, 15.00, kTight));  // 2 + 4 + 2 + 7
  CHECK(near_abs(two_parcels->shipping, 11.00, kTight));
  CHECK(two_parcels->wait_days == 9);
  CHECK(two_parcels->total == sum_of_parts(*two_parcels));
}

TEST_CASE("lines of no pieces cost nothing") {
  const Case c = minimal_case();
  const std::vector<OrderItem> none{{0, 0, 0, 0}};
  REQUIRE(landed_cost(c, none).has_value());
  CHECK(landed_cost(c, none)->total == 0);
  CHECK(landed_cost(c, none)->wait_days == 0);
  CHECK(landed_cost(c, {})->total == 0);
}

TEST_CASE("ranges are priced at their mean") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices[0].each =
      Quantity::three_point(1, 2, 6);                          // mean (1 + 8 + 6)/6 = 2.5
  c.suppliers[0].shipping[0].price = Quantity::between(4, 6);  // mean 5
  CHECK(near_abs(total(c, 2), 10.00, kTight));
}

TEST_CASE("thresholds above leave out what is reached") {
  Case c = one_offer({{1, 1.00}}, {{0, 6.00}, {25, 4.00}, {60, 0}});
  Supplier& s = c.suppliers[0];
  s.low_order_below = exactly(15);
  CHECK(thresholds_above(s, 10) == std::vector<double>{15, 25, 60});
  CHECK(thresholds_above(s, 25) == std::vector<double>{60});
  CHECK(thresholds_above(s, 60).empty());
  s.other_goods = 12;
  CHECK(thresholds_above(s, 10) == std::vector<double>{13, 48});
}

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

TEST_CASE("quantities of interest: need, one more, two breaks of each offer") {
  Case c = one_offer({{1, 0.62}, {10, 0.51}, {25, 0.44}, {100, 0.33}}, {{0, 4.90}});
  CHECK(quantities_of_interest(c, 0, 0, 1, 10) == std::vector<int>{1, 2, 10, 25});
  CHECK(quantities_of_interest(c, 0, 0, 9, 10) == std::vector<int>{9, 10, 25});
  CHECK(quantities_of_interest(c, 0, 0, 30, 10) == std::vector<int>{30, 31, 100});
  CHECK(quantities_of_interest(c, 0, 0, 1, 3) == std::vector<int>{1, 2, 10});
  CHECK(quantities_of_interest(c, 0, 0, 1, 1) == std::vector<int>{1});
  CHECK(quantities_of_interest(c, 0, 0, 1, 0).empty());

  c.parts[0].candidates[0].offers[0].multiple = 4;
  CHECK(quantities_of_interest(c, 0, 0, 1, 10) ==
        std::vector<int>{4, 12, 28});  // breaks rounded up to multiples
  c.parts[0].candidates[0].offers[0].stock = 12;
  CHECK(quantities_of_interest(c, 0, 0, 1, 10) == std::vector<int>{4, 12});
}

TEST_CASE("quantities of interest: a top-up that costs less than the shipping it saves") {
  // 17 at 1.25 come to 21.25 + 4.90 = 26.15, 20 to 25.00 + 0: three more pieces save 1.15.
  const Case c = one_offer({{1, 1.25}}, {{0, 4.90}, {25, 0}});
  CHECK(quantities_of_interest(c, 0, 0, 17, 10) == std::vector<int>{17, 18, 20});
  CHECK(quantities_of_interest(c, 0, 0, 17, 2) == std::vector<int>{17, 20});   // the top-up before one more
  CHECK(quantities_of_interest(c, 0, 0, 16, 10) == std::vector<int>{16, 17});  // 24.90 against 25.00
}

TEST_CASE("a top-up is the least quantity that reaches the tier and costs less") {
  Case c = one_offer({{1, 1.25}}, {{0, 4.90}, {25, 0}});
  const auto more = [&c](int quantity) {
    const OrderItem item{0, 0, 0, quantity};
    return top_ups(c, std::span<const OrderItem>(&item, 1), 0);
  };
  CHECK(more(17) == std::vector<int>{20});  // 21.25 + 4.90 = 26.15 against 25.00
  CHECK(more(16).empty());                  // 20.00 + 4.90 = 24.90 against 25.00
  CHECK(more(20).empty());                  // reached

  // At the break the goods fall below the tier again: 20 at 1.00 are 20.00, so 25 are needed.
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 1.20}, {20, 1.00}});
  CHECK(more(19) == std::vector<int>{25});  // 22.80 + 4.90 = 27.70 against 25.00

  c.parts[0].candidates[0].offers[0].stock = 24;
  CHECK(more(19).empty());

  // 18 at 1.20 would do, but tens are sold, and 20 at 1.00 fall short again: 30.00 against 12.00 + 20.00.
  Case tens = one_offer({{1, 1.20}, {20, 1.00}}, {{0, 20.00}, {21, 0}});
  tens.parts[0].candidates[0].offers[0].multiple = 10;
  const OrderItem ten{0, 0, 0, 10};
  CHECK(top_ups(tens, std::span<const OrderItem>(&ten, 1), 0) == std::vector<int>{30});
}

namespace {

// Shipping free from goods of 5, a price break at 4.
// 1: 3 + 10 = 13; 2: 6 + 0 = 6; 3: 9; 4: 4 + 10 = 14; 5: 5 + 0 = 5.
Case break_and_tier() { return one_offer({{1, 3.00}, {4, 1.00}}, {{0, 10}, {5, 0}}); }

std::vector<int> cheaper_than(const Case& c, int need) {
  return cheaper_in_all(c, std::vector<Need>{{0, 0, need}}, 0, 0);
}

}  // namespace

TEST_CASE("a tier is looked for at every step of the ladder") {
  const Case c = break_and_tier();
  const OrderItem one{0, 0, 0, 1};
  CHECK(top_ups(c, std::span<const OrderItem>(&one, 1), 0) == std::vector<int>{2, 5});
  CHECK(quantities_of_interest(c, 0, 0, 1, 10) == std::vector<int>{1, 2, 4, 5});
  const Offer& offer = c.parts[0].candidates[0].offers[0];
  CHECK(turning_points(offer, c.suppliers[0], 0, 1) == std::vector<int>{2, 4, 5});
  CHECK(turning_points(offer, c.suppliers[0], 0, 4) == std::vector<int>{5});
  CHECK(turning_points(offer, c.suppliers[0], 0, 5) == std::vector<int>{6});  // the tier is reached anyhow
  CHECK(turning_points(offer, c.suppliers[0], 5, 1) == std::vector<int>{4});  // by the rest alone

  // 2 reach 25 at 24.00 (24 + 4.90 = 28.90, 48), three at 9.00 do as well (27): the later step costs less.
  const Case later = one_offer({{1, 24.00}, {3, 9.00}}, {{0, 4.90}, {25, 0}});
  CHECK(top_ups(later, std::span<const OrderItem>(&one, 1), 0) == std::vector<int>{3});
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
  REQUIRE(near_abs(cheapest_order(c, needs, 0)->cost.total, 26.40, kTight));
  CHECK(cheaper_in_all(c, needs, 0, 0) == std::vector<int>{5});
  CHECK(cheaper_in_all(c, needs, 1, 0).empty());  // two sliders cost 25 at least, beside 2 buttons
  const std::vector<Need> more = enlarged(c, needs, 0);
  CHECK(more[0].pieces == 5);
  CHECK(more[1].pieces == 1);
  CHECK(near_abs(cheapest_order(c, more, 0)->cost.total, 25.00, kTight));
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

TEST_CASE("a top-up counts the rest of the order") {
  Case c = one_offer({{1, 1.00}}, {{0, 4.90}, {25, 0}});
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 20.00}})})}));
  const std::vector<OrderItem> items{{0, 0, 0, 2}, {1, 0, 0, 1}};
  CHECK(top_ups(c, items, 0) == std::vector<int>{5});  // 22 + 4.90 against 25
  CHECK(top_ups(c, items, 1).empty());                 // 42
}

TEST_CASE("a refused order can be topped up to the supplier's limit") {
  Case c = one_offer({{1, 4.00}}, {{0, 5.00}});
  c.suppliers[0].low_order_below = exactly(10);
  c.suppliers[0].refuses_low_orders = true;
  CHECK(quantities_of_interest(c, 0, 0, 1, 10) == std::vector<int>{1, 2, 3});
  const OrderItem item{0, 0, 0, 1};
  CHECK(top_ups(c, std::span<const OrderItem>(&item, 1), 0) == std::vector<int>{3});
}

TEST_CASE("the cheapest order weighs a dearer line against a second shipping") {
  Case c = minimal_case();
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 4.00}}));
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 6.00}}),
                                                            mendworth::test::offer(1, {{1, 3.00}})})}));
  const std::vector<Need> needs{{0, 0, 1}, {1, 0, 1}};
  const std::optional<Order> one_parcel = cheapest_order(c, needs, 0);
  REQUIRE(one_parcel.has_value());
  CHECK(near_abs(one_parcel->cost.total, 11.00, kTight));  // 1 + 6 + 4, against 1 + 4 + 3 + 4 = 12
  CHECK(one_parcel->items[1].offer == 0);
  CHECK_FALSE(one_parcel->search_limited);

  c.parts[1].candidates[0].offers[0].prices = ladder({{1, 8.00}});
  const std::optional<Order> two_parcels = cheapest_order(c, needs, 0);
  REQUIRE(two_parcels.has_value());
  CHECK(near_abs(two_parcels->cost.total, 12.00, kTight));  // against 13
  CHECK(two_parcels->items[1].offer == 1);
}

TEST_CASE("each supplier holds one of two parts: two parcels") {
  Case c = minimal_case();
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 7.00}}));
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(1, {{1, 3.00}})})}));
  const std::optional<Order> order = cheapest_order(c, std::vector<Need>{{0, 0, 2}, {1, 0, 1}}, 0);
  REQUIRE(order.has_value());
  CHECK(near_abs(order->cost.total, 16.00, kTight));  // 2 + 4 + 3 + 7
  REQUIRE(order->items.size() == 2);
  CHECK(order->items[0].quantity == 2);
  CHECK(order->items[1].part == 1);
}

TEST_CASE("the cheapest order may take the dearer line that reaches free shipping") {
  // Two offers of one supplier: singles at 9.00, or boxed at 10.00, which reach free shipping.
  Case c = one_offer({{1, 9.00}}, {{0, 4.00}, {10, 0}});
  c.parts[0].candidates[0].offers.push_back(mendworth::test::offer(0, {{1, 10.00}}));
  const std::optional<Order> order = cheapest_order(c, std::vector<Need>{{0, 0, 1}}, 0);
  REQUIRE(order.has_value());
  CHECK(order->items[0].offer == 1);
  CHECK(near_abs(order->cost.total, 10.00, kTight));
}

TEST_CASE("free pieces still pay their shipping") {
  Case c = one_offer({{1, 2.00}}, {{0, 4.00}});
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 9.00}}));
  c.parts[0].candidates[0].offers.push_back(mendworth::test::offer(1, {{1, 0.00}}));
  const std::optional<Order> order = cheapest_order(c, std::vector<Need>{{0, 0, 1}}, 0);
  REQUIRE(order.has_value());
  CHECK(order->items[0].offer == 0);
  CHECK(near_abs(order->cost.total, 6.00, kTight));  // against 9.00
}

TEST_CASE("waiting counts in the choice, not in the cost") {
  Case c = minimal_case();
  c.suppliers.push_back(mendworth::test::supplier("Far Away Parts", {{0, 0.50}}));
  c.suppliers[1].lead_days = exactly(22);
  c.parts[0].candidates[0].offers.push_back(mendworth::test::offer(1, {{1, 1.00}}));
  const std::vector<Need> needs{{0, 0, 1}};
  CHECK(cheapest_order(c, needs, 0)->items[0].offer == 1);     // 1.50 against 5.00
  CHECK(cheapest_order(c, needs, 0.17)->items[0].offer == 1);  // 1.50 + 3.74 = 5.24 against 5.34
  CHECK(cheapest_order(c, needs, 0.18)->items[0].offer == 0);  // 1.50 + 3.96 = 5.46 against 5.36
  CHECK(near_abs(cheapest_order(c, needs, 0.18)->cost.total, 5.00, kTight));
}

TEST_CASE("a need that nobody can meet leaves no order") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].multiple = 10;
  CHECK_FALSE(cheapest_order(c, std::vector<Need>{{0, 0, 9}}, 0).has_value());  // exactly nine are not sold
  CHECK(cheapest_order(c, std::vector<Need>{{0, 0, 10}}, 0).has_value());
  c.suppliers[0].low_order_below = exactly(20);
  c.suppliers[0].refuses_low_orders = true;
  CHECK_FALSE(cheapest_order(c, std::vector<Need>{{0, 0, 10}}, 0).has_value());
  CHECK(cheapest_order(c, std::vector<Need>{{0, 0, 20}}, 0).has_value());
}

TEST_CASE("no needs: an empty order that costs nothing") {
  const std::optional<Order> order = cheapest_order(minimal_case(), {}, 1);
  REQUIRE(order.has_value());
  CHECK(order->items.empty());
  CHECK(order->cost.total == 0);
}

TEST_CASE("the search says when its limit stopped it") {
  // 24 equal needs, 3 equal suppliers each: nothing can be left out early, 3^24 orders.
  Case c = minimal_case();
  c.parts[0].candidates[0].offers.clear();
  for (int s = 0; s < 3; ++s) {
    if (s > 0) c.suppliers.push_back(mendworth::test::supplier("Supplier", {{0, 4.00}}));
    c.suppliers.back().low_order_below = exactly(20);
    c.suppliers.back().low_order_fee = exactly(40);
    c.parts[0].candidates[0].offers.push_back(mendworth::test::offer(s, {{1, 0.10}}));
  }
  const std::vector<Need> needs(24, Need{0, 0, 1});
  const std::optional<Order> order = cheapest_order(c, needs, 0);
  REQUIRE(order.has_value());
  CHECK(order->search_limited);
  CHECK(near_abs(order->cost.total, 2.40 + 4 + 40, kCent));  // all at one supplier, the first looked at
}
