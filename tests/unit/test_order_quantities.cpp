#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include "model/purchase.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

// Which quantities are worth a look: packs, breaks, more pieces for less money, spares.
// Every expected amount in this file is derived: worked by hand in the comment beside it.

namespace {

using namespace mendworth;
using mendworth::test::minimal_case;
using mendworth::test::one_offer;

// Shipping free from goods of 5, a price break at 4.
// 1: 3 + 10 = 13; 2: 6 + 0 = 6; 3: 9; 4: 4 + 10 = 14; 5: 5 + 0 = 5.
Case break_and_tier() { return one_offer({{1, 3.00}, {4, 1.00}}, {{0, 10}, {5, 0}}); }

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
