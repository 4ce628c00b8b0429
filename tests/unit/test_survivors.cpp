#include <doctest/doctest.h>

#include <cmath>

#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

Case two_buttons() {
  Case c = minimal_case();
  c.positions[0].count = 2;
  c.risks.joint_mendable = exactly(0.05);
  c.risks.mend_minutes = exactly(6);
  c.risks.mend_money = exactly(2);
  return c;
}

SurvivorRow::Renewal renewal_of(const Case& c) {
  const Weighing w = weigh(c, built_in_rates(), {.futures = 400, .what_ifs = false});
  REQUIRE(w.survivors.size() == 1);
  REQUIRE(w.survivors.front().renewal.has_value());
  return *w.survivors.front().renewal;
}

}  // namespace

// Derived: at 30.00 an hour, 8 minutes and a piece at 1.00, and where one of four joints lifts, 6 minutes and 2.00.
TEST_CASE("renewing a mate in this opening costs a piece, its minutes and the risk of its joints") {
  const double lifts = 1 - std::pow(1 - 0.05, 4);
  CHECK(near_rel(renewal_of(two_buttons()).now_cost, 1.00 + 8 * 0.50 + lifts * (6 * 0.50 + 2.00), 1e-9));
}

// Derived: an order of one piece with shipping, 20 minutes of opening and 8 of work, and the same risk.
TEST_CASE("an opening of its own later costs an order and the opening too") {
  const double lifts = 1 - std::pow(1 - 0.05, 4);
  const auto renewal = renewal_of(two_buttons());
  CHECK(near_rel(renewal.later_cost, 5.00 + 28 * 0.50 + lifts * (6 * 0.50 + 2.00), 1e-9));
  CHECK(near_rel(renewal.break_even_chance, renewal.now_cost / renewal.later_cost, 1e-9));
}
