#include <doctest/doctest.h>

#include <limits>
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

constexpr double kCent = 0.005;
constexpr double kTight = 1e-9;

}  // namespace

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
