#include "model/plan.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"

// Which positions a plan renews. Every expectation is derived: counted by hand from the groups.

namespace {

using namespace mendworth;

PositionGroup group(int part, int count, int failed, int renewed = 0) {
  PositionGroup result = test::minimal_case().positions[0];
  result.part = part;
  result.count = count;
  result.failed = failed;
  result.renewed = renewed;
  return result;
}

// Of part 0 one failed among groups of its own, of part 1 none, of part 2 one of three.
Case three_parts() {
  Case c = test::minimal_case();
  c.parts.push_back(test::part("slider", {}));
  c.parts.push_back(test::part("knob", {}));
  c.positions = {group(0, 1, 1), group(0, 2, 0), group(0, 1, 0, 1), group(1, 4, 0), group(2, 3, 1, 1)};
  return c;
}

}  // namespace

TEST_CASE("mates of the failed are what is original of the same parts, and of no other") {
  const Case c = three_parts();
  CHECK(groups_with_originals(c) == std::vector<int>{1, 3, 4});
  CHECK(mates_of_failed(c) == std::vector<int>{1, 4});
}

TEST_CASE("a plan renews the failed and the originals of its groups") {
  const Case c = three_parts();
  const std::vector<Position> positions = positions_of(c);
  REQUIRE(positions.size() == 11);
  CHECK(renewed_with(positions, {}) == std::vector<int>{0, 8});
  const std::vector<int> all = renewed_with(positions, groups_with_originals(c));
  CHECK(all == std::vector<int>{0, 1, 2, 4, 5, 6, 7, 8, 10});
  CHECK(pieces_by_part(c, positions, all) == std::vector<int>{3, 4, 2});
}

// Derived: at 20 minutes an opening, the mate that is used as much as what has failed comes too, for 1.00 and 8 minutes: it
// has reached three quarters of the life that one in ten does not reach, and will be at 1.6 of it in five years, which at a
// shape of 8 it survives once in a hundred (0.9^(1.64^8 - 0.73^8) = 0.004). The others, at a fiftieth of its wear, outlive
// the device; so does what is renewed, and nothing is left to be renewed at a later failure.
TEST_CASE("of more groups than all subsets are tried of, those that are worn come too, and no others") {
  Case c = test::minimal_case();
  for (int g = 0; g < 14; ++g) {
    c.positions.push_back(group(0, 1, 0));
    c.positions.back().name = "button " + std::to_string(g);
    c.positions.back().share = test::exactly(g == 5 ? 1 : 0.02);
  }
  c.parts[0].life.rated_life = test::exactly(100'000);
  c.parts[0].life.life_spread = 1;
  c.parts[0].life.shape = test::exactly(8);
  c.parts[0].life.shape_spread = 1;
  c.replacements[0].price = test::exactly(500);
  const Weighing w = weigh(c, built_in_rates(), {.futures = 1000, .what_ifs = false});
  const auto best = std::find_if(w.options.begin(), w.options.end(),
                                 [&](const OptionResult& o) { return o.name == w.verdict.best_repair; });
  REQUIRE(best != w.options.end());
  CHECK(best->with == std::vector<std::string>{"button 5"});
  CHECK(best->renewed_now == 2);
  CHECK_FALSE(best->mates_later);
}
