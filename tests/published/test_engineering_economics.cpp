// Worked examples of engineering economics that discount factors and capital recovery can answer. Each is
// checked twice: against the printed figure, as close as its 4- or 5-digit factors allow, and against the
// exact one, computed in double precision from the same formula with powers of 1 + i.
#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <vector>

#include "numeric/discount.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;
using mendworth::test::published::near_rel;

TEST_SUITE_BEGIN("published: engineering economics");

namespace {

// Sinking fund: the yearly amount that grows to 1 by the end.
double sinking_fund(double rate, double years) { return capital_recovery(rate, years) - rate; }

double annuity(double rate, double years) { return 1 / capital_recovery(rate, years); }

// Costs at the ends of the years 1, 2, ...
double worth_of(const std::vector<double>& costs, double rate) {
  double worth = 0;
  for (std::size_t i = 0; i < costs.size(); ++i)
    worth += costs[i] * discount_factor(rate, static_cast<double>(i + 1));
  return worth;
}

double yearly_cost(double first_cost, double yearly, double salvage, double rate, double years) {
  return first_cost * capital_recovery(rate, years) - salvage * sinking_fund(rate, years) + yearly;
}

}  // namespace

// Published: D. G. Newnan et al., Engineering Economic Analysis, example 6-2, p. 180; printed 127.92 with A/F
// = 0.0724.
TEST_CASE("equipment with a salvage value") {
  const double found = yearly_cost(1000, 0, 200, 0.07, 10);
  CHECK(near_abs(found, 127.92, 0.05));
  CHECK(near_rel(found, 127.90200218, 1e-10));
  // The same cost by its other formula: (P - S)(A/F) + P i.
  CHECK(near_rel(800 * sinking_fund(0.07, 10) + 70, found, 1e-13));
}

// Published: same book, the next example (inputs); exact figures computed.
TEST_CASE("irregular repairs") {
  const double worth = worth_of({45, 90, 180, 135, 225}, 0.07);
  CHECK(near_rel(worth, 531.01192216, 1e-10));
  CHECK(near_rel(worth * capital_recovery(0.07, 5), 129.50886645, 1e-10));
}

// Published: solved problem, tutorsglobe.com question 5287850; printed 48,040.29 and 11,717.03.
TEST_CASE("irregular repairs of a larger machine") {
  const double worth = worth_of({4500, 9000, 11800, 13500, 22500}, 0.07);
  CHECK(near_rel(worth, 48040.29, 1e-5));
  CHECK(near_rel(worth, 48040.145379, 1e-10));
  CHECK(near_rel(worth * capital_recovery(0.07, 5), 11717.03, 1e-4));
  CHECK(near_rel(worth * capital_recovery(0.07, 5), 11716.544418, 1e-10));
}

// Published: solved problem, wizedu.com question 1097152; printed 15,820.0 and 14,831.2: the second method is
// cheaper.
TEST_CASE("two methods with lives of 3 and 2 years") {
  const double first = yearly_cost(20000, 8500, 5000, 0.15, 3);
  const double second = yearly_cost(15000, 7000, 3000, 0.15, 2);
  CHECK(near_abs(first, 15820.0, 0.5));
  CHECK(near_rel(first, 15819.654428, 1e-10));
  CHECK(near_abs(second, 14831.2, 0.5));
  CHECK(near_rel(second, 14831.395349, 1e-10));
  CHECK(second < first);
}

// Published: study notes "Engineering Economy Excelerated"; printed 4,087.69 and 7,418.45.
TEST_CASE("two machines with lives of 10 and 5 years") {
  const double lasting = yearly_cost(25000, 500, 2000, 0.08, 10);
  const double brief = yearly_cost(8000, 5500, 500, 0.08, 5);
  CHECK(near_abs(lasting, 4087.69, 0.05));
  CHECK(near_rel(lasting, 4087.678240, 1e-10));
  CHECK(near_abs(brief, 7418.45, 0.05));
  CHECK(near_rel(brief, 7418.423409, 1e-10));
}

// Published: solved problem, techwhiff.com 72677, machine A; printed 8,714.4 with the factors 0.5762 and
// 0.4762.
TEST_CASE("a machine for 2 years") {
  const double found = yearly_cost(15000, 1500, 3000, 0.10, 2);
  CHECK(near_abs(found, 8714.4, 0.15));
  CHECK(near_rel(found, 8714.285714, 1e-10));
}

// Published: solved problems 7.15 and 7.19, scribd.com document 602125832; printed 140,960.12 now and
// 365,608.26 at the end.
TEST_CASE("a used machine") {
  const double worth = 20000 + 20000 * annuity(0.10, 10) - 5000 * discount_factor(0.10, 10);
  CHECK(near_rel(worth, 140960.12, 3e-5));
  CHECK(near_rel(worth, 140963.625667, 1e-10));
  CHECK(near_rel(worth / discount_factor(0.10, 10), 365608.26, 5e-5));
  CHECK(near_rel(worth / discount_factor(0.10, 10), 365623.341222, 1e-10));
}

// Published: solved problem, engineeringandeconomicanalysis.blogspot.com, October 2012; printed 480.42.
TEST_CASE("a cost that grows by 10 per cent a year") {
  double worth = 0;
  for (int year = 1; year <= 5; ++year) worth += 100 * std::pow(1.10, year - 1) * discount_factor(0.08, year);
  CHECK(near_abs(worth, 480.42, 0.05));
  CHECK(near_rel(worth, 480.43022327, 1e-10));
}

// Published: solved problem, justaaa.com 519307; printed 53,748.624 and 7,902.23 a year.
TEST_CASE("mixed flows over 9 years at 6 per cent") {
  double worth = 2200;
  for (int year = 1; year <= 4; ++year) worth += 5500 * discount_factor(0.06, year);
  for (int year = 0; year <= 8; ++year) worth += 1500 * std::pow(1.06, year) * discount_factor(0.06, year);
  for (int year = 1; year <= 9; ++year)
    worth += 2000 * std::pow(1.08, year - 1) * discount_factor(0.06, year);
  worth += 750 * discount_factor(0.06, 4) + 2400 * discount_factor(0.06, 5) + 800 * discount_factor(0.06, 8);
  worth -= 3750 * discount_factor(0.06, 9);
  CHECK(near_rel(worth, 53748.624, 1e-5));
  CHECK(near_rel(worth, 53748.658128, 1e-10));
  CHECK(near_rel(worth * capital_recovery(0.06, 9), 7902.23, 1e-5));
  CHECK(near_rel(worth * capital_recovery(0.06, 9), 7902.247846, 1e-10));
}

// Published: solved problem, justaaa.com 355970; printed 27,250 and 5,781.27 a year.
TEST_CASE("a car over 5 years at 2 per cent") {
  const double worth =
      21657 + worth_of({1423, 1632, 1841, 2050, 2259}, 0.02) - 3362 * discount_factor(0.02, 5);
  CHECK(near_abs(worth, 27250, 1));
  CHECK(near_rel(worth, 27250.402948, 1e-10));
  CHECK(near_rel(worth * capital_recovery(0.02, 5), 5781.27, 1e-4));
  CHECK(near_rel(worth * capital_recovery(0.02, 5), 5781.401728, 1e-10));
}

// Published: documentation of the R package EngrEcon 1.0.0, example of annual_to_present; printed 337,733.5.
TEST_CASE("30,000 a year for 30 years") {
  CHECK(near_abs(30000 * annuity(0.08, 30), 337733.5, 0.05));
  CHECK(near_rel(30000 * annuity(0.08, 30), 337733.500294, 1e-11));
}

TEST_SUITE_END();
