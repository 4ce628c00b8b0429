#include <doctest/doctest.h>

#include <algorithm>
#include <stdexcept>
#include <string>
#include <vector>

#include "answers/order_answer.hpp"
#include "model/ladder.hpp"
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

constexpr double kTight = 1e-9;

// The ladder of which ten cost less than nine; shipping 4.90, tax 20 %.
Case ladder_case() {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 0.62}, {10, 0.51}, {25, 0.44}, {100, 0.33}});
  c.suppliers[0].shipping = tiers({{0, 4.90}});
  c.suppliers[0].tax = exactly(0.20);
  return c;
}

Order priced(const Case& c, const std::vector<OrderItem>& items) {
  Order order;
  order.items = items;
  const std::optional<LandedCost> cost = landed_cost(c, items, Parcel::with_other_goods);
  REQUIRE(cost.has_value());
  order.cost = *cost;
  return order;
}

OrderAnswer describe(const Case& c, const std::vector<OrderItem>& items, const std::vector<int>& needed) {
  return describe_order(c, priced(c, items), needed);
}

std::vector<int> quantities(const OrderAnswer& answer) {
  std::vector<int> result;
  for (const QuantityRow& row : answer.quantities) result.push_back(row.quantity);
  return result;
}

bool warns_exactly(const OrderAnswer& answer, const std::string& sentence) {
  return std::find(answer.warnings.begin(), answer.warnings.end(), sentence) != answer.warnings.end();
}

}  // namespace

TEST_CASE("an order is described with its lines, costs and leftovers") {
  const Case c = ladder_case();
  const OrderAnswer answer = describe(c, {{0, 0, 0, 10}}, {2});
  REQUIRE(answer.lines.size() == 1);
  const OrderLine& line = answer.lines[0];
  CHECK(line.part == "button");
  CHECK(line.candidate == "tall button");
  CHECK(line.supplier == "Cardinal Parts");
  CHECK(line.supplier_currency == "EUR");
  CHECK(line.needed == 2);
  CHECK(line.quantity == 10);
  CHECK(near_abs(line.each, 0.51, kTight));
  CHECK(near_abs(line.line, 5.10, kTight));
  CHECK(near_abs(line.landed, 12.00, kTight));
  CHECK(near_abs(answer.goods, 5.10, kTight));
  CHECK(near_abs(answer.shipping, 4.90, kTight));
  CHECK(near_abs(answer.tax, 2.00, kTight));
  CHECK(near_abs(answer.landed, 12.00, kTight));
  CHECK(answer.wait_days == 2);
  CHECK(answer.leftovers == 8);
  CHECK(near_abs(answer.charged_whole, 12.00, kTight));
  CHECK(near_abs(answer.charged_pro_rata, 2.40, kTight));  // 12.00 * 2/10
}

TEST_CASE("ten cost less than nine: in the table and as a warning") {
  const Case c = ladder_case();
  const OrderAnswer answer = describe(c, {{0, 0, 0, 9}}, {9});
  REQUIRE(quantities(answer) == std::vector<int>{9, 10, 11, 12, 25, 100});
  const std::vector<QuantityRow>& rows = answer.quantities;
  CHECK(near_abs(rows[0].landed, 12.576, kTight));
  CHECK(near_abs(rows[1].landed, 12.00, kTight));
  CHECK(near_abs(rows[1].landed_each, 1.20, kTight));
  CHECK(near_abs(rows[4].landed, 19.08, kTight));
  CHECK(near_abs(rows[4].each, 0.44, kTight));
  CHECK(rows[0].chosen);
  CHECK_FALSE(rows[1].chosen);
  CHECK(rows[0].remark.empty());
  CHECK(rows[1].remark == "10 cost less than 9");
  CHECK(rows[4].remark.empty());
  CHECK(
      warns_exactly(answer,
                    "More pieces for less money: with 10 of tall button from Cardinal Parts the order costs "
                    "12.00 EUR, with 9 it costs 12.58 EUR."));
  CHECK(answer.warnings.size() == 1);
}

TEST_CASE("a larger quantity is compared with the ordered one, or else the nearest that costs more") {
  const Case c = ladder_case();
  // 8: (4.96 + 4.90) * 1.2 = 11.83; 9: 12.58; 10: 12.00
  CHECK(describe(c, {{0, 0, 0, 8}}, {8}).quantities[2].remark == "10 cost less than 9");
  CHECK(describe(c, {{0, 0, 0, 10}}, {9}).quantities[1].remark == "10 cost less than 9");
}

TEST_CASE("amounts that print alike are not called cheaper") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 1.00}, {10, 0.8996}});  // 9.00 against 8.996
  const OrderAnswer answer = describe(c, {{0, 0, 0, 9}}, {9});
  REQUIRE(quantities(answer) == std::vector<int>{9, 10, 11, 12});
  CHECK(answer.quantities[1].remark.empty());
  CHECK(answer.warnings.empty());
  // In whole units half a unit prints alike, halves being rounded up.
  c.device.minor_digits = 0;
  CHECK_FALSE(visibly_less(c, 9.5, 10));
  CHECK(visibly_less(c, 9.4375, 10));
}

TEST_CASE("a top-up that costs less than the shipping it saves") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 1.25}});
  c.suppliers[0].shipping = tiers({{0, 4.90}, {25, 0}});
  const OrderAnswer answer = describe(c, {{0, 0, 0, 17}}, {17});
  REQUIRE(quantities(answer) == std::vector<int>{17, 18, 19, 20});
  CHECK(answer.quantities[3].remark == "topped up: shipping falls");
  CHECK(warns_exactly(
      answer,
      "A top-up costs less than it saves: with 20 of tall button from Cardinal Parts the order costs "
      "25.00 EUR, with 17 it costs 26.15 EUR; shipping and fees fall from 4.90 EUR to 0.00 EUR."));
}

// Derived: eight cost 8.00 and 4.00 for shipping; ten at 1.00 and twenty at 0.50 cost 10.00 alike, and both come free.
TEST_CASE("of two top-ups that save the same that of fewer pieces is named") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 1.00}, {20, 0.50}});
  c.suppliers[0].shipping = tiers({{0, 4.00}, {10, 0}});
  const OrderAnswer answer = describe(c, {{0, 0, 0, 8}}, {8});
  CHECK(std::count(
            answer.warnings.begin(), answer.warnings.end(),
            "A top-up costs less than it saves: with 10 of tall button from Cardinal Parts the order costs "
            "10.00 EUR, with 8 it costs 12.00 EUR; shipping and fees fall from 4.00 EUR to 0.00 EUR.") == 1);
}

TEST_CASE("a top-up sees the rest of the order") {
  Case c = minimal_case();
  c.suppliers[0].shipping = tiers({{0, 4.90}, {25, 0}});
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 20.00}})})}));
  const OrderAnswer answer = describe(c, {{0, 0, 0, 2}, {1, 0, 0, 1}}, {2, 1});
  const auto topped_up = std::find_if(answer.quantities.begin(), answer.quantities.end(),
                                      [](const QuantityRow& row) { return row.quantity == 5; });
  REQUIRE(topped_up != answer.quantities.end());
  CHECK(topped_up->part == "button");
  CHECK(near_abs(topped_up->landed, 25.00, kTight));  // 5 + 20, against 22 + 4.90
  CHECK(topped_up->remark == "topped up: shipping falls");
  CHECK(near_abs(topped_up->landed_each, 1.00, kTight));  // its own share: nothing beside the goods
  CHECK(near_abs(answer.quantities[0].landed_each, (2 + 4.90 * 2 / 22) / 2, kTight));
}

TEST_CASE("other goods may reach the tier where more of the same piece would overshoot") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 23.00}});
  c.suppliers[0].shipping = tiers({{0, 4.90}, {25, 0}});
  const OrderAnswer answer = describe(c, {{0, 0, 0, 1}}, {1});
  // 2 pieces: 46.00; 2.00 of anything: 25.00, against 27.90.
  REQUIRE(answer.warnings.size() == 1);
  CHECK(answer.warnings[0] ==
        "2.00 EUR more of useful goods from Cardinal Parts would lower shipping and fees from 4.90 EUR to "
        "0.00 EUR: "
        "the order would cost 2.90 EUR less.");
}

TEST_CASE("the table holds the quantity that a price break and a tier make cheapest") {
  // 1: 3 + 10 = 13; 2: 6; 4: 4 + 10 = 14; 5: 5.
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 3.00}, {4, 1.00}});
  c.suppliers[0].shipping = tiers({{0, 10}, {5, 0}});
  const OrderAnswer answer = describe(c, {{0, 0, 0, 2}}, {1});
  REQUIRE(quantities(answer) == std::vector<int>{1, 2, 3, 4, 5});
  CHECK(answer.quantities[1].chosen);
  CHECK(near_abs(answer.quantities[4].landed, 5.00, kTight));
  CHECK(answer.quantities[4].remark == "5 cost less than 2");
  CHECK(warns_exactly(answer,
                      "More pieces for less money: with 5 of tall button from Cardinal Parts the order costs "
                      "5.00 EUR, with 2 it costs 6.00 EUR."));
}

TEST_CASE("beyond the ordered quantity the table holds one that costs less than it, far from the need") {
  // 20: 52 + 5 = 57; 24: 62.40, free; 25: 50 + 5 = 55; 30: 60, free.
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 3.20}, {5, 3.00}, {10, 2.60}, {25, 2.00}});
  c.suppliers[0].shipping = tiers({{0, 5}, {60, 0}});
  const OrderAnswer answer = describe(c, {{0, 0, 0, 20}}, {1});
  REQUIRE(quantities(answer) == std::vector<int>{1, 2, 3, 4, 5, 10, 20, 25});
  CHECK(near_abs(answer.quantities[7].landed, 55.00, kTight));
  CHECK(answer.quantities[7].remark == "25 cost less than 20");
}

TEST_CASE("a low-order fee that a top-up saves") {
  Case c = minimal_case();
  c.suppliers[0].low_order_below = exactly(10);
  c.suppliers[0].low_order_fee = exactly(5);
  const OrderAnswer answer = describe(c, {{0, 0, 0, 8}}, {8});
  REQUIRE(quantities(answer) == std::vector<int>{8, 9, 10, 11});  // 17, 18, 14
  CHECK(near_abs(answer.quantities[2].landed, 14.00, kTight));
  CHECK(answer.quantities[2].remark == "topped up: the low-order fee falls away");
}

TEST_CASE("only packs larger than the need are sold") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].least = 10;
  c.parts[0].candidates[0].offers[0].multiple = 10;
  const OrderAnswer answer = describe(c, {{0, 0, 0, 10}}, {1});
  CHECK(warns_exactly(answer,
                      "1 of tall button is needed; 10 is the smallest quantity on sale that covers this."));
  CHECK(quantities(answer) == std::vector<int>{10});
  CHECK(answer.leftovers == 9);
}

TEST_CASE("another quantity may come from another supplier, the wait is told") {
  Case c = ladder_case();
  c.suppliers.push_back(mendworth::test::supplier("Far Away Parts", {{0, 0}}));
  c.suppliers[1].lead_days = exactly(20);
  Offer pack = mendworth::test::offer(1, {{10, 0.65}});
  pack.least = 10;
  pack.multiple = 10;
  c.parts[0].candidates[0].offers.push_back(pack);
  const OrderAnswer answer = describe(c, {{0, 0, 0, 1}}, {1});
  const auto ten = std::find_if(answer.quantities.begin(), answer.quantities.end(),
                                [](const QuantityRow& row) { return row.quantity == 10; });
  REQUIRE(ten != answer.quantities.end());
  CHECK(ten->supplier == "Far Away Parts");  // 6.50 against 12.00
  CHECK(near_abs(ten->landed, 6.50, kTight));
  CHECK(ten->remark == "10 cost less than 1");  // 6.50 against 6.62
  CHECK(warns_exactly(
      answer,
      "More pieces for less money: with 10 of tall button from Far Away Parts the order costs "
      "6.50 EUR, with 1 from Cardinal Parts it costs 6.62 EUR, but takes 20 days instead of 2."));

  c.downtime.per_day = exactly(0.50);  // 18 days more cost 9.00, more than the 5.50 saved
  const OrderAnswer hurried = describe(c, {{0, 0, 0, 1}}, {1});
  for (const QuantityRow& row : hurried.quantities) CHECK(row.supplier == "Cardinal Parts");
}

TEST_CASE("lines bear the order's costs by value, suppliers apart") {
  Case c = minimal_case();
  c.suppliers.push_back(mendworth::test::supplier("Wren Components", {{0, 7.00}}));
  c.suppliers[1].exchange_rate = exactly(2);
  c.suppliers[1].currency = "GBP";
  const auto add_part = [&c](const std::string& name, int supplier, double price) {
    c.parts.push_back(mendworth::test::part(
        name, {mendworth::test::candidate(name, {mendworth::test::offer(supplier, {{1, price}})})}));
  };
  add_part("slider", 0, 3.00);
  add_part("jack", 1, 5.00);
  const OrderAnswer answer = describe(c, {{0, 0, 0, 1}, {1, 0, 0, 1}, {2, 0, 0, 2}}, {1, 1, 1});
  REQUIRE(answer.lines.size() == 3);
  CHECK(near_abs(answer.lines[0].landed, 2.00, kTight));   // 1 + 4 * 1/4
  CHECK(near_abs(answer.lines[1].landed, 6.00, kTight));   // 3 + 4 * 3/4
  CHECK(near_abs(answer.lines[2].landed, 34.00, kTight));  // (10 + 7) * 2
  CHECK(answer.lines[2].supplier_currency == "GBP");
  CHECK(near_abs(answer.lines[2].line, 10.00, kTight));
  CHECK(near_abs(answer.landed, 42.00, kTight));
  CHECK(near_abs(answer.charged_pro_rata, 25.00, kTight));  // 2 + 6 + 34/2
  CHECK(answer.leftovers == 1);
}

TEST_CASE("free pieces share the shipping by number") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 0.00}});
  c.parts.push_back(mendworth::test::part(
      "slider", {mendworth::test::candidate("long slider", {mendworth::test::offer(0, {{1, 0.00}})})}));
  const OrderAnswer answer = describe(c, {{0, 0, 0, 1}, {1, 0, 0, 3}}, {1, 3});
  CHECK(near_abs(answer.lines[0].landed, 1.00, kTight));  // 4.00 * 1/4
  CHECK(near_abs(answer.lines[1].landed, 3.00, kTight));
}

TEST_CASE("amounts are written with the currency's own digits") {
  Case c = ladder_case();
  c.device.currency = "JPY";
  c.device.minor_digits = 0;
  c.parts[0].candidates[0].offers[0].prices = ladder({{1, 62}, {10, 51}});
  c.suppliers[0].shipping = tiers({{0, 490}});
  const OrderAnswer answer = describe(c, {{0, 0, 0, 9}}, {9});
  // (558 + 490) * 1.2 = 1257.6 against (510 + 490) * 1.2 = 1200
  CHECK(
      warns_exactly(answer,
                    "More pieces for less money: with 10 of tall button from Cardinal Parts the order costs "
                    "1200 JPY, with 9 it costs 1258 JPY."));
}

TEST_CASE("a limited search is told") {
  const Case c = minimal_case();
  Order order = priced(c, {{0, 0, 0, 1}});
  order.search_limited = true;
  const std::vector<int> needed{1};
  const OrderAnswer answer = describe_order(c, order, needed);
  REQUIRE(answer.warnings.size() == 1);
  CHECK(answer.warnings[0].find("not all were tried") != std::string::npos);
}

TEST_CASE("an order that does not go with its needs is refused") {
  const Case c = minimal_case();
  const Order order = priced(c, {{0, 0, 0, 1}});
  CHECK_THROWS_AS(static_cast<void>(describe_order(c, order, {})), std::invalid_argument);
  Order none = order;
  none.items[0].quantity = 0;
  const std::vector<int> needed{1};
  CHECK_THROWS_AS(static_cast<void>(describe_order(c, none, needed)), std::invalid_argument);
}
