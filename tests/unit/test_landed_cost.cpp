#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "model/parcel_ranges.hpp"
#include "model/purchase.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

// What an order costs at the doorstep.
// Every expected amount in this file is derived: worked by hand in the comment beside it.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::minimal_case;
using mendworth::test::near_abs;
using mendworth::test::one_offer;

constexpr double kTight = 1e-9;

std::optional<LandedCost> landed(const Case& c, int quantity, Parcel parcel = Parcel::with_other_goods) {
  const OrderItem item{0, 0, 0, quantity};
  return landed_cost(c, std::span<const OrderItem>(&item, 1), parcel);
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

TEST_CASE("no duty, no carrier's handling: a rate of zero is as good as goods within the free limit") {
  Case c = one_offer({{1, 100.00}}, {{0, 5.00}});
  c.suppliers[0].customs_fee = exactly(12);
  CHECK(near_abs(total(c, 2), 205.00, kTight));
  c.suppliers[0].duty = exactly(0.01);
  CHECK(near_abs(total(c, 2), 219.05, kTight));  // 205 + 2.05 + 12
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

TEST_CASE("an order that comes alone knows no goods of other jobs") {
  Case c = one_offer({{1, 10.00}}, {{0, 6.00}, {25, 4.00}});
  c.suppliers[0].low_order_below = exactly(20);
  c.suppliers[0].low_order_fee = exactly(3);
  c.suppliers[0].other_goods = 30;
  REQUIRE(landed(c, 1, Parcel::alone).has_value());
  CHECK(near_abs(landed(c, 1, Parcel::alone)->total, 19.00, kTight));  // 10 + 6 + 3
  CHECK(near_abs(total(c, 1), 11.00, kTight));                         // 10 + 4 * 10/40
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
  const std::optional<LandedCost> one_parcel = landed_cost(c, together, Parcel::with_other_goods);
  REQUIRE(one_parcel.has_value());
  CHECK(near_abs(one_parcel->total, 9.00, kTight));  // 2 + 3 + 4
  CHECK(one_parcel->wait_days == 2);

  const std::vector<OrderItem> apart{{0, 0, 0, 2}, {1, 0, 1, 1}};
  const std::optional<LandedCost> two_parcels = landed_cost(c, apart, Parcel::with_other_goods);
  REQUIRE(two_parcels.has_value());
  CHECK(near_abs(two_parcels->total, 15.00, kTight));  // 2 + 4 + 2 + 7
  CHECK(near_abs(two_parcels->shipping, 11.00, kTight));
  CHECK(two_parcels->wait_days == 9);
  CHECK(two_parcels->total == sum_of_parts(*two_parcels));
}

TEST_CASE("lines of no pieces cost nothing") {
  const Case c = minimal_case();
  const std::vector<OrderItem> none{{0, 0, 0, 0}};
  REQUIRE(landed_cost(c, none, Parcel::with_other_goods).has_value());
  CHECK(landed_cost(c, none, Parcel::with_other_goods)->total == 0);
  CHECK(landed_cost(c, none, Parcel::with_other_goods)->wait_days == 0);
  CHECK(landed_cost(c, {}, Parcel::with_other_goods)->total == 0);
}

TEST_CASE("ranges are priced at their mean") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices[0].each =
      Quantity::three_point(1, 2, 6);                          // mean (1 + 8 + 6)/6 = 2.5
  c.suppliers[0].shipping[0].price = Quantity::between(4, 6);  // mean 5
  CHECK(near_abs(total(c, 2), 10.00, kTight));
}

TEST_CASE("any goods lie in a range that is charged on their terms") {
  Supplier s = mendworth::test::supplier("Cardinal Parts", {{0, 9.00}, {20, 5.00}, {50, 0}});
  s.low_order_below = exactly(8);
  s.low_order_fee = exactly(2);
  s.duty_free_up_to = exactly(50);
  s.duty = exactly(0.1);
  const std::vector<ParcelRange> ranges = parcel_ranges(s, Parcel::alone);
  for (const double limit : {8.0, 20.0, 45.0, 50.0}) {
    // To the cent, beyond it, and where rounding no longer makes one the other.
    for (const double off : {-0.01, -3e-9 * limit, 0.0, 3e-9 * limit, 0.01}) {
      const double goods = limit + off;
      CAPTURE(goods);
      CHECK(std::any_of(ranges.begin(), ranges.end(), [&](const ParcelRange& range) {
        return range.from <= goods && goods <= range.to &&
               range.terms == parcel_terms(s, goods, Parcel::alone);
      }));
    }
  }
}

TEST_CASE("thresholds above leave out what is reached") {
  Case c = one_offer({{1, 1.00}}, {{0, 6.00}, {25, 4.00}, {60, 0}});
  Supplier& s = c.suppliers[0];
  s.low_order_below = exactly(15);
  CHECK(thresholds_above(s, 10, Parcel::with_other_goods) == std::vector<double>{15, 25, 60});
  CHECK(thresholds_above(s, 25, Parcel::with_other_goods) == std::vector<double>{60});
  CHECK(thresholds_above(s, 60, Parcel::with_other_goods).empty());
  s.other_goods = 12;
  CHECK(thresholds_above(s, 10, Parcel::with_other_goods) == std::vector<double>{13, 48});
  CHECK(thresholds_above(s, 10, Parcel::alone) == std::vector<double>{15, 25, 60});
}
