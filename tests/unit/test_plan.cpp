#include "model/plan.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

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
