#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "answers/labels.hpp"
#include "domain/common_factor.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

// The numbers that are turned for break-evens and sensitivity rows: their names and how far they are turned.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::minimal_case;
using mendworth::test::near_abs;

Weighing weighed(const Case& c) {
  return weigh(c, built_in_rates(), {.seed = 3, .futures = 4'000, .threads = 1});
}

const BreakEven* find(const Weighing& w, const std::string& key) {
  const auto found = std::find_if(w.break_evens.begin(), w.break_evens.end(),
                                  [&](const BreakEven& b) { return b.key == key; });
  return found == w.break_evens.end() ? nullptr : &*found;
}

const BreakEven& turning(Weighing&&, const std::string&) = delete;  // it would dangle
const BreakEven& turning(const Weighing& w, const std::string& key) {
  const BreakEven* found = find(w, key);
  REQUIRE_MESSAGE(found != nullptr, key);
  return *found;
}

/// A day without it costs something, so that the lead time is turned.
Case busy_case() {
  Case c = minimal_case();
  c.downtime.per_day = exactly(2);
  return c;
}

Case with_second_supplier(Case c) {
  c.suppliers.push_back(test::supplier("Wren Components", {{0, 7.00}}));
  c.parts[0].candidates[0].offers.push_back(test::offer(1, {{1, 2.00}}));
  return c;
}

std::vector<std::string> rows_about(const Weighing& w, const std::string& words) {
  std::vector<std::string> keys;
  for (const auto& row : w.sensitivity) {
    if (row.label.find(words) != std::string::npos) keys.push_back(row.key);
  }
  return keys;
}

}  // namespace

TEST_SUITE_BEGIN("knobs");

TEST_CASE("a free replacement: its turning price is found, and the saving is gone at that price") {
  Case c = minimal_case();
  c.replacements[0].price = exactly(0);
  const auto w = weighed(c);
  const auto& price = turning(w, "replacement.1.price");
  CHECK(price.current == 0);
  REQUIRE(price.values.size() == 1);
  CHECK(price.values.front() > 1);
  CHECK(price.values.front() < price.high);
  c.replacements[0].price = exactly(price.values.front());
  // The plan may be another one at that price, hence not exactly zero.
  CHECK(near_abs(*weighed(c).verdict.saving, 0, 0.5));
}

TEST_CASE("free parts, free shipping, free time: each has a range that fits the case, and a turning point") {
  Case c = minimal_case();
  c.parts[0].candidates[0].offers[0].prices[0].each = exactly(0);
  c.suppliers[0].shipping[0].price = exactly(0);
  c.labour.rate_per_hour = exactly(0);
  const auto w = weighed(c);
  REQUIRE(*w.verdict.saving > 20);
  for (const std::string key :
       {"part.1.candidate.1.offer.1.price", "supplier.1.shipping", "labour.rate_per_hour"}) {
    CAPTURE(key);
    const auto& knob = turning(w, key);
    CHECK(knob.current == 0);
    // What a device costs and no more than a few times what the whole case is about.
    CHECK(knob.high >= 80);
    CHECK(knob.high < 2000);
    CHECK(knob.values.size() == 1);
    CHECK(near_abs(knob.saving_low, *w.verdict.saving, 1e-9));
  }
}

TEST_CASE("a free licensed repair: its turning price is found") {
  Case c = minimal_case();
  c.device.hazards = {"gas"};
  c.licensed_repair = LicensedRepair{exactly(0), exactly(1), exactly(0)};
  const auto w = weighed(c);
  const auto& price = turning(w, "licensed_repair.price");
  CHECK(price.values.size() == 1);
}

TEST_CASE(
    "one supplier in play: its lead time, shipping and price stand in one row each, under their own keys") {
  Case c = busy_case();
  c.suppliers[0].lead_days = Quantity::between(1, 9);
  // A supplier of nothing is not in play.
  c.suppliers.push_back(test::supplier("Wren Components", {{0, 7.00}}));
  const auto w = weighed(c);
  CHECK(rows_about(w, "lead time") == std::vector<std::string>{"supplier.1.lead_days"});
  CHECK(rows_about(w, "shipping of") == std::vector<std::string>{});
  CHECK(rows_about(w, "shipping from") == std::vector<std::string>{"supplier.1.shipping"});
  CHECK(rows_about(w, "price of tall button") ==
        std::vector<std::string>{"part.1.candidate.1.offer.1.price"});
  CHECK(find(w, "common.lead_days") == nullptr);
  CHECK(near_abs(turning(w, "supplier.1.lead_days").current, 5, 1e-12));
}

TEST_CASE("several suppliers in play: one factor turns all of them") {
  const auto w = weighed(with_second_supplier(busy_case()));
  for (const char* key : {"common.lead_days", "common.shipping", "common.part_price"}) {
    CHECK(find(w, key) != nullptr);
  }
}

TEST_CASE("a dear replacement that outlives the others moves no range and no axis of time") {
  Case c = minimal_case();
  const WeighSettings few{.seed = 3, .futures = 128, .threads = 1};
  const auto w = weigh(c, built_in_rates(), few);
  Replacement dear = c.replacements[0];
  dear.name = "dear";
  dear.price = exactly(9'000);
  dear.life_years = exactly(40);
  c.replacements.push_back(dear);
  const auto with = weigh(c, built_in_rates(), few);
  REQUIRE(with.break_evens.size() == w.break_evens.size());
  for (std::size_t i = 0; i < w.break_evens.size(); ++i) {
    CAPTURE(w.break_evens[i].key);
    CHECK(with.break_evens[i].high == w.break_evens[i].high);
    CHECK(with.break_evens[i].values == w.break_evens[i].values);
  }
  REQUIRE(with.cost_in_time);
  REQUIRE(w.cost_in_time);
  CHECK(with.cost_in_time->repair.back().years == w.cost_in_time->repair.back().years);
  CHECK(with.options.front().cash_within == w.options.front().cash_within);
}

TEST_CASE("a row for set-up only where time costs something") {
  Case c = minimal_case();
  c.replacements[0].setup_minutes = exactly(30);
  CHECK(find(weighed(c), "replacement.1.setup_minutes") != nullptr);
  c.labour.rate_per_hour = exactly(0);
  CHECK(find(weighed(c), "replacement.1.setup_minutes") == nullptr);
}

TEST_CASE("every factor of the answers is known by its entries") {
  Case c = with_second_supplier(busy_case());
  c.positions[0].count = 3;
  c.parts[0].candidates[0].offers[0].multiple = 10;
  c.parts[0].candidates[0].offers.pop_back();
  c.parts[0].candidates.push_back(test::candidate("short button", {test::offer(1, {{1, 2.00}, {5, 1.50}})}));
  const auto w = weighed(c);
  int factors = 0;
  const auto check = [&](const std::string& key) {
    if (key.rfind("common.", 0) != 0) return;
    CAPTURE(key);
    ++factors;
    REQUIRE(find_common_factor(key) != nullptr);
    CHECK_FALSE(find_common_factor(key)->entries.empty());
  };
  for (const auto& row : w.break_evens) check(row.key);
  for (const auto& row : w.sensitivity) check(row.key);
  CHECK(factors >= 6);
  CHECK(find_common_factor("common.nothing") == nullptr);
  CHECK(find_common_factor("") == nullptr);
}

TEST_CASE("labels name the supplier's own currency") {
  Case c = with_second_supplier(minimal_case());
  c.suppliers[1].currency = "USD";
  CHECK(label_of(c, "supplier.2.shipping") == "shipping from Wren Components (USD)");
  CHECK(label_of(c, "part.1.candidate.1.offer.2.price") == "price of tall button (USD)");
  CHECK(label_of(c, "part.1.candidate.1.offer.1.line_fee") == "line fee for tall button (EUR)");
  CHECK(label_of(c, "replacement.1.price") == "price of new intercom (EUR)");
  // Steps of a price say which of them they are; the number of an only entry may be left out, as in an override.
  c.parts[0].candidates[0].offers[0].prices = {{1, Quantity::exactly(0.5)}, {10, Quantity::exactly(0.4)}};
  c.suppliers[1].shipping = {{0, Quantity::exactly(4.5)}, {40, Quantity::exactly(0)}};
  CHECK(label_of(c, "part.1.candidate.1.offer.1.prices.2.each") == "price of tall button, from 10 (EUR)");
  CHECK(label_of(c, "part.1.candidate.1.offer.2.prices.1.each") == "price of tall button (USD)");
  CHECK(label_of(c, "supplier.2.shipping.2.price") ==
        "shipping from Wren Components, goods from 40 on (USD)");
  c.suppliers[1].shipping[1].goods_from = 1'500'000;
  CHECK(label_of(c, "supplier.2.shipping.2.price") ==
        "shipping from Wren Components, goods from 1500000 on (USD)");
  CHECK(label_of(c, "replacement.price") == "price of new intercom (EUR)");
  CHECK(label_of(c, "replacement.7.price") == "price of  (EUR)");
  // The chance that the diagnosis is right is one thing, that the device works afterwards another.
  CHECK(label_of(c, "risk.diagnosis_right") == "chance that the diagnosis is right");
}

TEST_SUITE_END();
