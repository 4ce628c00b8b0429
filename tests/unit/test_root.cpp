#include "numeric/root.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

TEST_SUITE_BEGIN("root");

TEST_CASE("every crossing of a wave is found, in rising order") {
  const Crossings found = find_crossings([](double x) { return std::sin(x); }, 1, 10, 31, 1e-10, 60);
  REQUIRE(found.at.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(near_abs(found.at[i], std::numbers::pi * static_cast<double>(i + 1), 9e-10));
  }
  CHECK(found.value_low == std::sin(1.0));
  CHECK(found.value_high == std::sin(10.0));
  CHECK(found.widest <= 9e-10);
}

TEST_CASE("a jump across zero is a crossing at the jump") {
  const Crossings found = find_crossings([](double x) { return x < 0.3 ? -2.0 : 5.0; }, 0, 1, 5, 1e-6, 60);
  REQUIRE(found.at.size() == 1);
  CHECK(near_abs(found.at[0], 0.3, 1e-6));
  CHECK(found.widest <= 1e-6);
}

TEST_CASE("no crossing, no answer") {
  const Crossings found = find_crossings([](double x) { return 1 + x * x; }, -1, 1, 9, 1e-6, 60);
  CHECK(found.at.empty());
  CHECK(found.widest == 0);
  CHECK(found.value_low == 2);
  CHECK(found.value_high == 2);
}

TEST_CASE("an exact zero at a scan place counts once") {
  CHECK(find_crossings([](double x) { return x; }, -1, 1, 3, 1e-6, 60).at == std::vector<double>{0});
  CHECK(find_crossings([](double x) { return x; }, 0, 1, 3, 1e-6, 60).at == std::vector<double>{0});
  CHECK(find_crossings([](double x) { return x - 1; }, 0, 1, 3, 1e-6, 60).at == std::vector<double>{1});
  // A touch at a scan place is a zero too, and a run of zeros is one.
  CHECK(find_crossings([](double x) { return x * x; }, -1, 1, 3, 1e-6, 60).at == std::vector<double>{0});
  const auto flat = [](double x) { return std::abs(x) < 0.6 ? 0.0 : x; };
  CHECK(find_crossings(flat, -1, 1, 5, 1e-6, 60).at == std::vector<double>{-0.5});
}

TEST_CASE("running out of steps is told by the width that was left") {
  int calls = 0;
  const auto f = [&calls](double x) {
    ++calls;
    return x < 0.123456 ? -1.0 : 1.0;
  };
  const Crossings found = find_crossings(f, 0, 1, 2, 1e-12, 5);
  REQUIRE(found.at.size() == 1);
  CHECK(calls <= 2 + 5 + 2);
  CHECK(found.widest > 1e-12);
  CHECK(std::abs(found.at[0] - 0.123456) <= found.widest);
}

TEST_CASE("ranges, counts and values that make no sense are refused") {
  const auto line = [](double x) { return x; };
  CHECK_THROWS_AS((void)find_crossings(line, 1, 1, 3, 1e-6, 60), std::domain_error);
  CHECK_THROWS_AS((void)find_crossings(line, 2, 1, 3, 1e-6, 60), std::domain_error);
  CHECK_THROWS_AS((void)find_crossings(line, 0, 1, 1, 1e-6, 60), std::domain_error);
  CHECK_THROWS_AS((void)find_crossings(line, 0, 1, 3, 0, 60), std::domain_error);
  CHECK_THROWS_AS((void)find_crossings(line, 0, 1, 3, 1e-6, 0), std::domain_error);
  CHECK_THROWS_AS((void)find_crossings(line, -std::numeric_limits<double>::infinity(), 1, 3, 1e-6, 60),
                  std::domain_error);
  const auto hole = [](double x) { return x > 0.4 ? std::nan("") : -1.0; };
  CHECK_THROWS_AS((void)find_crossings(hole, 0, 1, 3, 1e-6, 60), std::domain_error);
}

TEST_SUITE_END();
