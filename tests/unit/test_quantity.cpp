#include "mendworth/quantity.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>

#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

TEST_SUITE_BEGIN("quantity");

TEST_CASE("one value is its own ends, mean and every quantile") {
  const Quantity q = Quantity::exactly(3.25);
  CHECK(q.is_fixed());
  CHECK(q.low() == 3.25);
  CHECK(q.likely() == 3.25);
  CHECK(q.high() == 3.25);
  CHECK(q.base() == 3.25);
  for (const double u : {0.0, 0.3, 1.0}) CHECK(q.quantile(u) == 3.25);
  CHECK(Quantity().base() == 0);
}

TEST_CASE("equal ends give one value, so equal quantities compare equal however they were stated") {
  CHECK(Quantity::between(2, 2) == Quantity::exactly(2));
  CHECK(Quantity::three_point(2, 2, 2) == Quantity::exactly(2));
  CHECK(Quantity::three_point(2, 2, 2, Spread::triangular) == Quantity::exactly(2));
  CHECK_FALSE(Quantity::three_point(1, 2, 3) == Quantity::three_point(1, 2, 3, Spread::triangular));
}

TEST_CASE("means by the definition of each spread") {
  // Derived: (0 + 10)/2; (0 + 4*2 + 10)/6 = 3; (0 + 2 + 10)/3 = 4.
  CHECK(Quantity::between(0, 10).base() == 5);
  CHECK(near_rel(Quantity::three_point(0, 2, 10).base(), 3, 1e-15));
  CHECK(near_rel(Quantity::three_point(0, 2, 10, Spread::triangular).base(), 4, 1e-15));
}

TEST_CASE("quantiles reach both ends exactly and rise between them") {
  const Quantity quantities[] = {Quantity::between(-1, 4),
                                 Quantity::three_point(-1, 0, 4),
                                 Quantity::three_point(-1, -1, 4),
                                 Quantity::three_point(-1, 4, 4),
                                 Quantity::three_point(-1, 0, 4, Spread::triangular),
                                 Quantity::three_point(-1, -1, 4, Spread::triangular),
                                 Quantity::three_point(-1, 4, 4, Spread::triangular)};
  for (const Quantity& q : quantities) {
    CHECK(q.quantile(0) == -1);
    CHECK(q.quantile(1) == 4);
    double last = -1;
    for (int i = 1; i < 200; ++i) {
      const double x = q.quantile(i / 200.0);
      CHECK(x > last);
      last = x;
    }
    CHECK(last < 4);
  }
}

TEST_CASE("beta quantile where the law has a closed form") {
  // Derived: likely == low gives alpha = 1, beta = 5: F(x) = 1 - (1 - x)^5, so F(0.5) = 31/32;
  // likely == high gives the mirror image.
  CHECK(near_abs(Quantity::three_point(0, 0, 1).quantile(31.0 / 32), 0.5, 1e-14));
  CHECK(near_abs(Quantity::three_point(0, 1, 1).quantile(1.0 / 32), 0.5, 1e-14));
}

TEST_CASE("triangular quantile on both sides of the mode") {
  // Derived: low 0, likely 2, high 10: F(1) = 1/20, F(2) = 1/5, F(6) = 1 - 16/80.
  const Quantity q = Quantity::three_point(0, 2, 10, Spread::triangular);
  CHECK(near_abs(q.quantile(0.05), 1, 1e-14));
  CHECK(near_abs(q.quantile(0.2), 2, 1e-14));
  CHECK(near_abs(q.quantile(0.8), 6, 1e-14));
}

TEST_CASE("scaling keeps the spread and moves every point") {
  CHECK(Quantity::exactly(4).scaled(0.5) == Quantity::exactly(2));
  CHECK(Quantity::between(1, 3).scaled(2) == Quantity::between(2, 6));
  CHECK(Quantity::three_point(1, 2, 5).scaled(2) == Quantity::three_point(2, 4, 10));
  CHECK(Quantity::three_point(1, 2, 5, Spread::triangular).scaled(2) ==
        Quantity::three_point(2, 4, 10, Spread::triangular));
  CHECK(Quantity::three_point(1, 2, 5).scaled(0) == Quantity::exactly(0));
}

TEST_CASE("variances are those of the distributions") {
  // Published: uniform range^2/12; triangular (a^2 + b^2 + c^2 - ab - ac - bc)/18; beta of shapes p and q
  // range^2 p q/((p + q)^2 (p + q + 1)) - here p = 1 + 4/4, q = 1 + 12/4 for 1, 2, 5: 16 * 8/(36 * 7). The triangular
  // one for 1, 2, 6: (1 + 4 + 36 - 2 - 6 - 12)/18.
  CHECK(Quantity::exactly(3).variance() == 0);
  CHECK(near_rel(Quantity::between(1, 7).variance(), 3, 1e-14));
  CHECK(near_rel(Quantity::three_point(1, 2, 6, Spread::triangular).variance(), 21.0 / 18, 1e-14));
  CHECK(near_rel(Quantity::three_point(1, 2, 5).variance(), 128.0 / 252, 1e-14));
}

TEST_CASE("a sum of independent ranges has the means and the variances of its terms") {
  CHECK(independent_sum({}) == Quantity::exactly(0));
  CHECK(independent_sum({Quantity::exactly(1), Quantity::exactly(2)}) == Quantity::exactly(3));
  CHECK(independent_sum({Quantity::exactly(1), Quantity::between(2, 4)}) == Quantity::between(3, 5));
  CHECK(independent_sum({Quantity::exactly(1), Quantity::three_point(1, 2, 5, Spread::triangular)}) ==
        Quantity::three_point(2, 3, 6, Spread::triangular));

  // Derived: n equal terms of mean m and variance v have n m and n v; the ends come closer by sqrt(n).
  const Quantity term = Quantity::three_point(2, 3, 10);
  const Quantity four = independent_sum({term, term, term, term});
  CHECK(near_rel(four.low(), 4 * term.base() - 2 * (term.base() - 2), 1e-14));
  CHECK(near_rel(four.high(), 4 * term.base() + 2 * (10 - term.base()), 1e-14));

  const std::vector<std::vector<Quantity>> sums = {
      {term, Quantity::three_point(0, 9, 10)},
      {Quantity::three_point(2, 2, 7), Quantity::three_point(0, 0, 90), Quantity::exactly(4)},
      {Quantity::between(1, 8), Quantity::between(0, 2), Quantity::between(2, 7), term},
      {Quantity::three_point(2, 2, 7, Spread::triangular),
       Quantity::three_point(0, 9, 10, Spread::triangular)},
  };
  for (const std::vector<Quantity>& terms : sums) {
    double mean = 0, variance = 0, low = 0, high = 0;
    for (const Quantity& q : terms) {
      mean += q.base();
      variance += q.variance();
      low += q.low();
      high += q.high();
    }
    const Quantity all = independent_sum(terms);
    CHECK(near_rel(all.base(), mean, 1e-14));
    CHECK(near_rel(all.variance(), variance, 1e-13));
    CHECK(all.low() >= low);
    CHECK(all.high() <= high);
  }
  // Two uniform ranges would need ends beyond what they can come to.
  const Quantity two = independent_sum({Quantity::between(0, 2), Quantity::between(0, 2)});
  CHECK(two == Quantity::three_point(0, 2, 4));
}

TEST_CASE("points out of order or not finite are refused") {
  constexpr double inf = std::numeric_limits<double>::infinity();
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS((void)Quantity::exactly(nan), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::exactly(-inf), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::between(2, 1), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::between(nan, 1), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::between(0, inf), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::between(-1.5e308, 1.5e308), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::three_point(2, 1, 3), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::three_point(1, 4, 3), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::three_point(1, nan, 3), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::three_point(1, 2, 3, Spread::uniform), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::three_point(2, 2, 2, Spread::fixed), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::exactly(1).scaled(-1), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::exactly(1).scaled(nan), std::invalid_argument);
  CHECK_THROWS_AS((void)Quantity::exactly(1).quantile(1.1), std::domain_error);
  CHECK_THROWS_AS((void)Quantity::between(0, 1).quantile(nan), std::domain_error);
}

TEST_SUITE_END();
