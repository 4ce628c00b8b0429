#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "numeric/round_step.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_rel;

TEST_CASE("a round step is the least of 1, 2 and 5 times a power of ten that is enough") {
  // Derived: by looking.
  CHECK(near_rel(round_step(1), 1, 1e-12));
  CHECK(near_rel(round_step(1.01), 2, 1e-12));
  CHECK(near_rel(round_step(2), 2, 1e-12));
  CHECK(near_rel(round_step(2.1), 5, 1e-12));
  CHECK(near_rel(round_step(5.1), 10, 1e-12));
  CHECK(near_rel(round_step(0.011), 0.02, 1e-12));
  CHECK(near_rel(round_step(0.03), 0.05, 1e-12));
  CHECK(near_rel(round_step(300), 500, 1e-12));
  // 0.1 * 3 - 0.1 is a little more than 0.2 in binary.
  CHECK(near_rel(round_step(0.1 * 3 - 0.1), 0.2, 1e-9));
}

TEST_CASE("no step is round for nothing, less than nothing or no number") {
  CHECK_THROWS_AS(static_cast<void>(round_step(0)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(round_step(-1)), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(round_step(std::nan(""))), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(round_step(std::numeric_limits<double>::infinity())), std::domain_error);
}
