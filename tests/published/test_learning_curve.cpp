// The unit (Crawford) learning curve against printed examples.
#include <doctest/doctest.h>

#include <cmath>

#include "numeric/learning.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;
using mendworth::test::published::near_rel;

TEST_SUITE_BEGIN("published: learning curve");

// Published: documentation article of the R package learningCurve 1.1.2 (B. Boehmke and J. Freels, AFIT),
// unit model: first unit 100 hours, 125th unit at five rates.
TEST_CASE("125th unit at five rates") {
  struct Row {
    double rate, hours;
  };
  constexpr Row rows[] = {
      {0.80, 21.13225}, {0.825, 26.18401}, {0.85, 32.23647}, {0.875, 39.44942}, {0.90, 48.00243}};
  for (const Row& row : rows) CHECK(near_abs(100 * learning_factor(125, row.rate, 0), row.hours, 0.5e-5));
}

// Published: same article: all 125 units together at 85 %, printed 5201.085.
TEST_CASE("the first 125 units together") {
  double total = 0;
  for (int n = 1; n <= 125; ++n) total += 100 * learning_factor(n, 0.85, 0);
  CHECK(near_abs(total, 5201.085, 0.5e-3));
}

// Published: same article: unit n from a known later unit m.
TEST_CASE("one unit from another") {
  struct Row {
    int known;
    double hours;
    int wanted;
    double rate, printed;
  };
  constexpr Row rows[] = {
      {1, 100, 80, 0.83, 30.79056}, {20, 120, 150, 0.92, 94.17084}, {10, 90, 175, 0.87, 50.64078}};
  for (const Row& row : rows) {
    const double found =
        row.hours * learning_factor(row.wanted, row.rate, 0) / learning_factor(row.known, row.rate, 0);
    CHECK(near_abs(found, row.printed, 0.5e-5));
  }
}

// Published: same article: slopes b of n^b.
TEST_CASE("slopes") {
  struct Row {
    double rate, slope;
  };
  constexpr Row rows[] = {{0.80, -0.3219281}, {0.85, -0.2344653}, {0.90, -0.1520031}};
  for (const Row& row : rows)
    CHECK(near_abs(std::log(learning_factor(10, row.rate, 0)) / std::log(10.0), row.slope, 0.5e-7));
}

// Published: page "learning curve" at gristprojectmanagement.us: first unit 812 h, 75 % curve, 250 units
// together printed 34,170 h (rounded to tens). Quadrupling the units at 80 % saves 36 %.
TEST_CASE("812 hours at 75 per cent") {
  double total = 0;
  for (int n = 1; n <= 250; ++n) total += 812 * learning_factor(n, 0.75, 0);
  CHECK(near_abs(total, 34170, 5));
  CHECK(near_abs(1 - learning_factor(4, 0.80, 0), 0.36, 1e-12));
}

// The standard 80 % illustration: 100, 80, 64, 51.2 for units 1, 2, 4, 8, exact by definition; unit 3 = 100 x
// 3^log2(0.8).
TEST_CASE("textbook 80 per cent") {
  CHECK(100 * learning_factor(1, 0.80, 0) == 100);
  CHECK(near_rel(100 * learning_factor(2, 0.80, 0), 80, 1e-14));
  CHECK(near_rel(100 * learning_factor(3, 0.80, 0), 70.21037028, 1e-9));
  CHECK(near_rel(100 * learning_factor(4, 0.80, 0), 64, 1e-14));
  CHECK(near_rel(100 * learning_factor(8, 0.80, 0), 51.2, 1e-14));
}

TEST_SUITE_END();
