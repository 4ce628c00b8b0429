#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>

#include "numeric/exact.hpp"

using namespace mendworth;

namespace {

Exact fraction(std::int64_t top, std::int64_t bottom) { return Exact::whole(top) / Exact::whole(bottom); }

}  // namespace

TEST_CASE("exact: a written number is the decimal fraction that was written") {
  CHECK(Exact::decimal(0.07) == fraction(7, 100));
  CHECK(Exact::decimal(2.675) == fraction(2675, 1000));
  CHECK(Exact::decimal(-1.005) == fraction(-1005, 1000));
  CHECK(Exact::decimal(0.09975) == fraction(9975, 100'000));
  CHECK(Exact::decimal(1234567.0) == Exact::whole(1'234'567));
  CHECK(Exact::decimal(1e21) == Exact::power_of_ten(21));
  CHECK(Exact::decimal(2.5e-300) == Exact::whole(25) * Exact::power_of_ten(-301));
  CHECK(Exact::decimal(0.0) == Exact());
  CHECK(Exact::decimal(-0.0) == Exact());
  CHECK(Exact::decimal(0.1) + Exact::decimal(0.2) == Exact::decimal(0.3));
}

TEST_CASE("exact: what a sum in binary leaves behind does not make or break a half") {
  const double sum = 0.1 + 0.2;  // 0.30000000000000004
  CHECK(Exact::decimal(sum) != fraction(3, 10));
  CHECK(Exact::computed(sum) == fraction(3, 10));
  // 1.15 * 2.3 is 2.6449999999999996 in binary, 2.645 by hand.
  CHECK(Exact::decimal(1.15 * 2.3) < fraction(2645, 1000));
  CHECK(Exact::computed(1.15 * 2.3) == fraction(2645, 1000));
  // 13 significant digits.
  CHECK(Exact::computed(1.0 / 3) == Exact::whole(3'333'333'333'333) * Exact::power_of_ten(-13));
  CHECK(Exact::computed(0) == Exact());
}

TEST_CASE("exact: arithmetic and order") {
  const Exact third = fraction(1, 3);
  CHECK(third + third + third == Exact::whole(1));
  CHECK(third * Exact::whole(3) == Exact::whole(1));
  CHECK(Exact::whole(1) - third == fraction(2, 3));
  CHECK(fraction(2, 3) / fraction(4, 3) == fraction(1, 2));
  CHECK(fraction(1, -3) == fraction(-1, 3));
  CHECK(third < fraction(334, 1000));
  CHECK(third > fraction(333, 1000));
  CHECK(fraction(-1, 2) < Exact());
  Exact sum;
  sum += third;
  sum += third;
  CHECK(sum == fraction(2, 3));
  CHECK(Exact::whole(7).is_whole());
  CHECK((third * Exact::whole(6)).is_whole());
  CHECK_FALSE(third.is_whole());
  CHECK_THROWS_AS(third / Exact(), std::domain_error);
}

TEST_CASE("exact: rounding goes to the nearest, halves away from zero, and up") {
  CHECK(fraction(5, 2).rounded() == 3);
  CHECK(fraction(-5, 2).rounded() == -3);
  CHECK(fraction(24'999, 10'000).rounded() == 2);
  CHECK(fraction(-24'999, 10'000).rounded() == -2);
  CHECK(fraction(1, 2).rounded() == 1);
  CHECK(fraction(-1, 2).rounded() == -1);
  CHECK(fraction(-1, 3).rounded() == 0);
  CHECK(Exact::whole(-4).rounded() == -4);
  CHECK(Exact().rounded() == 0);

  CHECK(fraction(1, 1'000'000).rounded_up() == 1);
  CHECK(fraction(-5, 2).rounded_up() == -2);
  CHECK(fraction(-1, 3).rounded_up() == 0);
  CHECK(Exact::whole(-4).rounded_up() == -4);
  CHECK(Exact::whole(4).rounded_up() == 4);
}

TEST_CASE("exact: what is no number or too large is said") {
  for (const double bad :
       {std::nan(""), std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()}) {
    CHECK_THROWS_AS(static_cast<void>(Exact::decimal(bad)), std::domain_error);
    CHECK_THROWS_AS(static_cast<void>(Exact::computed(bad)), std::domain_error);
  }
  const Exact most = Exact::power_of_ten(15);
  CHECK(most.rounded() == 1'000'000'000'000'000);
  CHECK((Exact::whole(-1) * most).rounded_up() == -1'000'000'000'000'000);
  CHECK((most + fraction(1, 3)).rounded() == 1'000'000'000'000'000);
  CHECK_THROWS_AS(static_cast<void>((most + fraction(1, 2)).rounded()), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>((most + fraction(1, 3)).rounded_up()), std::domain_error);
  CHECK_THROWS_AS(static_cast<void>(Exact::decimal(1e300).rounded()), std::domain_error);
}
