#include <doctest/doctest.h>

#include <optional>
#include <vector>

#include "model/purchase.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

// Which suppliers make an order cheapest.
// Every expected amount in this file is derived: worked by hand in the comment beside it.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::ladder;
using mendworth::test::minimal_case;
using mendworth::test::near_abs;
using mendworth::test::one_offer;

constexpr double kTight = 1e-9;

}  // namespace

TEST_CASE("the cheapest order weighs a dearer line against a second shipping") {
  Case c = minimal_case();
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 4.00}}));
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 6.00}}),
                                                            mendworth::test::offer(1, {{1, 3.00}})})}));
  const std::vector<Need> needs{{0, 0, 1}, {1, 0, 1}};
  const std::optional<Order> one_parcel = cheapest_order(c, needs, 0, Parcel::with_other_goods);
  REQUIRE(one_parcel.has_value());
  CHECK(near_abs(one_parcel->cost.total, 11.00, kTight));  // 1 + 6 + 4, against 1 + 4 + 3 + 4 = 12
  CHECK(one_parcel->items[1].offer == 0);
  CHECK_FALSE(one_parcel->search_limited);

  c.parts[1].candidates[0].offers[0].prices = ladder({{1, 8.00}});
  const std::optional<Order> two_parcels = cheapest_order(c, needs, 0, Parcel::with_other_goods);
  REQUIRE(two_parcels.has_value());
  CHECK(near_abs(two_parcels->cost.total, 12.00, kTight));  // against 13
  CHECK(two_parcels->items[1].offer == 1);
}

TEST_CASE("each supplier holds one of two parts: two parcels") {
  Case c = minimal_case();
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 7.00}}));
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(1, {{1, 3.00}})})}));
  const std::optional<Order> order =
      cheapest_order(c, std::vector<Need>{{0, 0, 2}, {1, 0, 1}}, 0, Parcel::with_other_goods);
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
  const std::optional<Order> order =
      cheapest_order(c, std::vector<Need>{{0, 0, 1}}, 0, Parcel::with_other_goods);
  REQUIRE(order.has_value());
  CHECK(order->items[0].offer == 1);
  CHECK(near_abs(order->cost.total, 10.00, kTight));
}

TEST_CASE("free pieces still pay their shipping") {
  Case c = one_offer({{1, 2.00}}, {{0, 4.00}});
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 9.00}}));
  c.parts[0].candidates[0].offers.push_back(mendworth::test::offer(1, {{1, 0.00}}));
  const std::optional<Order> order =
      cheapest_order(c, std::vector<Need>{{0, 0, 1}}, 0, Parcel::with_other_goods);
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
  CHECK(cheapest_order(c, needs, 0, Parcel::with_other_goods)->items[0].offer == 1);  // 1.50 against 5.00
  CHECK(cheapest_order(c, needs, 0.17, Parcel::with_other_goods)->items[0].offer ==
        1);  // 1.50 + 3.74 = 5.24 against 5.34
  CHECK(cheapest_order(c, needs, 0.18, Parcel::with_other_goods)->items[0].offer ==
        0);  // 1.50 + 3.96 = 5.46 against 5.36
  CHECK(near_abs(cheapest_order(c, needs, 0.18, Parcel::with_other_goods)->cost.total, 5.00, kTight));
}

TEST_CASE("the cheapest order brings at least the need, more where that costs less") {
  Case c = one_offer({{1, 1.00}, {10, 0.80}}, {{0, 4.00}});
  const auto bought = [&c](int pieces) {
    return cheapest_order(c, std::vector<Need>{{0, 0, pieces}}, 0, Parcel::with_other_goods);
  };
  REQUIRE(bought(9).has_value());
  CHECK(bought(9)->items[0].quantity == 10);  // 8 + 4 against 9 + 4
  CHECK(bought(8)->items[0].quantity == 8);   // 12 either way: the smaller order
  c.parts[0].candidates[0].offers[0].multiple = 10;
  CHECK(bought(1)->items[0].quantity == 10);
  c.suppliers[0].low_order_below = exactly(15);
  c.suppliers[0].refuses_low_orders = true;
  CHECK(bought(1)->items[0].quantity == 20);  // 8 are refused
  c.parts[0].candidates[0].offers[0].stock = 10;
  CHECK_FALSE(bought(1).has_value());
}

TEST_CASE("a need that no stock brings alone is brought from several offers") {
  Case c = one_offer({{1, 1.00}}, {{0, 4.00}});
  c.parts[0].candidates[0].offers[0].stock = 6;
  for (int s = 1; s <= 2; ++s) {
    c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 3.00}}));
    c.parts[0].candidates[0].offers.push_back(mendworth::test::offer(s, {{1, 2.00}}));
    c.parts[0].candidates[0].offers.back().stock = 5;
  }
  const std::optional<Order> order = cheapest_order(c, std::vector<Need>{{0, 0, 13}}, 0, Parcel::alone);
  REQUIRE(order.has_value());
  REQUIRE(order->items.size() == 3);
  CHECK(near_abs(order->cost.total, 30.00, kTight));  // 6 + 4, 7 at 2.00 and two parcels at 3.00
  CHECK_FALSE(cheapest_order(c, std::vector<Need>{{0, 0, 17}}, 0, Parcel::alone).has_value());
}

TEST_CASE("of orders that cost the same the smaller one is placed, then that of the offer listed first") {
  // 5 x 1.00 and 10 x 0.50, both with 4.00.
  Case c = one_offer({{1, 1.00}, {10, 0.50}}, {{0, 4.00}});
  c.suppliers.push_back(c.suppliers[0]);
  c.parts[0].candidates[0].offers.push_back(c.parts[0].candidates[0].offers[0]);
  c.parts[0].candidates[0].offers[1].supplier = 1;
  const std::optional<Order> order = cheapest_order(c, std::vector<Need>{{0, 0, 5}}, 0, Parcel::alone);
  REQUIRE(order.has_value());
  CHECK(order->items[0].quantity == 5);
  CHECK(order->items[0].offer == 0);
}

TEST_CASE("an order that comes alone knows no goods of other jobs") {
  Case c = one_offer({{1, 1.00}}, {{0, 8.00}, {30, 0}});
  c.suppliers[0].other_goods = 20;
  const std::vector<Need> ten{{0, 0, 10}};
  CHECK(near_abs(cheapest_order(c, ten, 0, Parcel::with_other_goods)->cost.total, 10.00, kTight));
  CHECK(near_abs(cheapest_order(c, ten, 0, Parcel::alone)->cost.total, 18.00, kTight));
}

TEST_CASE("no needs: an empty order that costs nothing") {
  const std::optional<Order> order = cheapest_order(minimal_case(), {}, 1, Parcel::with_other_goods);
  REQUIRE(order.has_value());
  CHECK(order->items.empty());
  CHECK(order->cost.total == 0);
}
