// Compound-interest factors against printed tables.
#include <doctest/doctest.h>

#include "numeric/discount.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;
using mendworth::test::published::near_rel;

TEST_SUITE_BEGIN("published: compound interest");

namespace {

enum class Factor { future_worth, present_worth, capital_recovery, annuity };

struct Row {
  double rate;
  int years;
  Factor factor;
  double printed;
  double tolerance;  // half a unit of the last printed digit
};

double factor_of(const Row& row) {
  switch (row.factor) {
    case Factor::future_worth: return 1 / discount_factor(row.rate, row.years);
    case Factor::present_worth: return discount_factor(row.rate, row.years);
    case Factor::capital_recovery: return capital_recovery(row.rate, row.years);
    case Factor::annuity: break;
  }
  return 1 / capital_recovery(row.rate, row.years);
}

void check(const Row& row) {
  CAPTURE(row.rate);
  CAPTURE(row.years);
  CAPTURE(row.printed);
  // A billionth of the tolerance for a factor that is a tie in its last digit.
  CHECK(near_abs(factor_of(row), row.printed, row.tolerance * (1 + 1e-9)));
}

}  // namespace

// Published: "Discrete cash flow: compound interest factors", table for 0.25 %, appendix of an
// engineering-economy textbook (page vdocuments.us/discrete-cash-flow.html).
TEST_CASE("table for 0.25 per cent") {
  constexpr Row rows[] = {{0.0025, 1, Factor::future_worth, 1.0025, 0.5e-4},
                          {0.0025, 1, Factor::present_worth, 0.9975, 0.5e-4},
                          {0.0025, 1, Factor::capital_recovery, 1.00250, 0.5e-5},
                          {0.0025, 1, Factor::annuity, 0.9975, 0.5e-4},
                          {0.0025, 2, Factor::future_worth, 1.0050, 0.5e-4},
                          {0.0025, 2, Factor::present_worth, 0.9950, 0.5e-4},
                          {0.0025, 2, Factor::capital_recovery, 0.50188, 0.5e-5},
                          {0.0025, 2, Factor::annuity, 1.9925, 0.5e-4},
                          {0.0025, 5, Factor::future_worth, 1.0126, 0.5e-4},
                          {0.0025, 5, Factor::present_worth, 0.9876, 0.5e-4},
                          {0.0025, 5, Factor::capital_recovery, 0.20150, 0.5e-5},
                          {0.0025, 5, Factor::annuity, 4.9627, 0.5e-4},
                          {0.0025, 8, Factor::future_worth, 1.0202, 0.5e-4},
                          {0.0025, 8, Factor::present_worth, 0.9802, 0.5e-4},
                          {0.0025, 8, Factor::capital_recovery, 0.12641, 0.5e-5},
                          {0.0025, 8, Factor::annuity, 7.9107, 0.5e-4},
                          {0.0025, 12, Factor::future_worth, 1.0304, 0.5e-4},
                          {0.0025, 12, Factor::present_worth, 0.9705, 0.5e-4},
                          {0.0025, 12, Factor::capital_recovery, 0.08469, 0.5e-5},
                          {0.0025, 12, Factor::annuity, 11.8073, 0.5e-4},
                          {0.0025, 18, Factor::future_worth, 1.0460, 0.5e-4},
                          {0.0025, 18, Factor::present_worth, 0.9561, 0.5e-4},
                          {0.0025, 18, Factor::capital_recovery, 0.05688, 0.5e-5},
                          {0.0025, 18, Factor::annuity, 17.5795, 0.5e-4},
                          {0.0025, 24, Factor::future_worth, 1.0618, 0.5e-4},
                          {0.0025, 24, Factor::present_worth, 0.9418, 0.5e-4},
                          {0.0025, 24, Factor::capital_recovery, 0.04298, 0.5e-5},
                          {0.0025, 24, Factor::annuity, 23.2660, 0.5e-4}};
  for (const Row& row : rows) check(row);
}

// Published: the factors printed inside the worked examples whose sources test_engineering_economics.cpp
// names. Three of the 6 % factors were cut there, not rounded: a whole unit of the last digit.
TEST_CASE("factors of worked examples") {
  constexpr Row rows[] = {{0.15, 3, Factor::capital_recovery, 0.4380, 0.5e-4},
                          {0.15, 2, Factor::capital_recovery, 0.6151, 0.5e-4},
                          {0.08, 10, Factor::capital_recovery, 0.14903, 0.5e-5},
                          {0.08, 5, Factor::capital_recovery, 0.25046, 0.5e-5},
                          {0.07, 1, Factor::present_worth, 0.9346, 0.5e-4},
                          {0.07, 2, Factor::present_worth, 0.8734, 0.5e-4},
                          {0.07, 3, Factor::present_worth, 0.8163, 0.5e-4},
                          {0.07, 4, Factor::present_worth, 0.7629, 0.5e-4},
                          {0.07, 5, Factor::present_worth, 0.7130, 0.5e-4},
                          {0.07, 5, Factor::capital_recovery, 0.2439, 0.5e-4},
                          {0.07, 10, Factor::capital_recovery, 0.1424, 0.5e-4},
                          {0.1, 2, Factor::capital_recovery, 0.5762, 0.5e-4},
                          {0.1, 10, Factor::capital_recovery, 0.1627, 0.5e-4},
                          {0.1, 10, Factor::annuity, 6.145, 0.5e-3},
                          {0.1, 10, Factor::future_worth, 2.5937, 0.5e-4},
                          {0.02, 1, Factor::present_worth, 0.9804, 0.5e-4},
                          {0.02, 2, Factor::present_worth, 0.9612, 0.5e-4},
                          {0.02, 3, Factor::present_worth, 0.9423, 0.5e-4},
                          {0.02, 4, Factor::present_worth, 0.9238, 0.5e-4},
                          {0.02, 5, Factor::present_worth, 0.9057, 0.5e-4},
                          {0.02, 5, Factor::annuity, 4.7135, 0.5e-4},
                          {0.06, 4, Factor::annuity, 3.465105, 1e-6},
                          {0.06, 4, Factor::present_worth, 0.79209, 0.5e-5},
                          {0.06, 8, Factor::present_worth, 0.62741, 0.5e-5},
                          {0.06, 5, Factor::present_worth, 0.74725, 1e-5},
                          {0.06, 9, Factor::present_worth, 0.59189, 1e-5},
                          {0.06, 9, Factor::capital_recovery, 0.147022, 0.5e-6},
                          {0.08, 1, Factor::future_worth, 1.0800, 0.5e-4},
                          {0.08, 2, Factor::future_worth, 1.1664, 0.5e-4},
                          {0.08, 3, Factor::future_worth, 1.2597, 0.5e-4},
                          {0.08, 4, Factor::future_worth, 1.3605, 0.5e-4}};
  for (const Row& row : rows) check(row);
}

// Published: example output in the documentation of the R packages financial 0.2 (sppv) and FinCal
// (pv.simple) at rdrr.io, and of UniformSeriesPV(10, 5) at docs.oracle.com (which prints 19 digits, here a
// double's 16).
TEST_CASE("factors in package documentation") {
  constexpr Row rows[] = {{0.1, 1, Factor::future_worth, 1.100000, 0.5e-6},
                          {0.1, 2, Factor::future_worth, 1.210000, 0.5e-6},
                          {0.1, 3, Factor::future_worth, 1.331000, 0.5e-6},
                          {0.1, 4, Factor::future_worth, 1.464100, 0.5e-6},
                          {0.1, 5, Factor::future_worth, 1.610510, 0.5e-6},
                          {0.1, 6, Factor::future_worth, 1.771561, 0.5e-6},
                          {0.1, 7, Factor::future_worth, 1.948717, 0.5e-6},
                          {0.1, 8, Factor::future_worth, 2.143589, 0.5e-6},
                          {0.1, 9, Factor::future_worth, 2.357948, 0.5e-6},
                          {0.1, 10, Factor::future_worth, 2.593742, 0.5e-6},
                          {0.1, 20, Factor::future_worth, 6.727500, 0.5e-6},
                          {0.1, 30, Factor::future_worth, 17.449402, 0.5e-6},
                          {0.07, 10, Factor::present_worth, 0.5083493, 0.5e-7},
                          {0.03, 3, Factor::present_worth, 0.9151417, 0.5e-7},
                          {0.1, 5, Factor::annuity, 3.790786769408448, 1e-14}};
  for (const Row& row : rows) check(row);
}

// Computed in double precision with expm1 and log1p from the definitions, and checked against every printed
// factor above: 12 digits.
TEST_CASE("grid of rates and years") {
  struct Exact {
    double rate;
    int years;
    double present_worth, capital_recovery;
  };
  constexpr Exact rows[] = {{0.0025, 1, 0.997506234414, 1.0025},
                            {0.0025, 7, 0.982673695658, 0.144289281239},
                            {0.0025, 25, 0.939486335226, 0.0413129829326},
                            {0.0025, 60, 0.860869105783, 0.0179686906641},
                            {0.005, 1, 0.995024875622, 1.005},
                            {0.005, 7, 0.965689629821, 0.145728535537},
                            {0.005, 25, 0.882771809842, 0.0426518569745},
                            {0.005, 60, 0.741372196244, 0.0193328015294},
                            {0.01, 1, 0.990099009901, 1.01},
                            {0.01, 7, 0.932718054707, 0.148628282914},
                            {0.01, 25, 0.779768442994, 0.0454067534005},
                            {0.01, 60, 0.550449615938, 0.0222444476849},
                            {0.02, 1, 0.980392156863, 1.02},
                            {0.02, 7, 0.870560178614, 0.154511956103},
                            {0.02, 25, 0.609530870528, 0.0512204384174},
                            {0.02, 60, 0.304782266459, 0.0287679658258},
                            {0.03, 1, 0.970873786408, 1.03},
                            {0.03, 7, 0.813091511343, 0.160506353754},
                            {0.03, 25, 0.477605569262, 0.0574278710391},
                            {0.03, 60, 0.169733090016, 0.036132958738},
                            {0.04, 1, 0.961538461538, 1.04},
                            {0.04, 7, 0.759917813202, 0.16660961204},
                            {0.04, 25, 0.375116802254, 0.0640119627865},
                            {0.04, 60, 0.0950604010209, 0.0442018451233},
                            {0.05, 1, 0.952380952381, 1.05},
                            {0.05, 7, 0.71068133013, 0.172819818446},
                            {0.05, 25, 0.295302771698, 0.0709524572992},
                            {0.05, 60, 0.0535355237465, 0.0528281845272},
                            {0.06, 1, 0.943396226415, 1.06},
                            {0.06, 7, 0.665057113622, 0.179135018059},
                            {0.06, 25, 0.232998630504, 0.0782267182123},
                            {0.06, 60, 0.0303143376857, 0.0618757215166},
                            {0.07, 1, 0.934579439252, 1.07},
                            {0.07, 7, 0.622749741885, 0.185553219631},
                            {0.07, 25, 0.184249177522, 0.0858105172207},
                            {0.07, 60, 0.0172573194695, 0.0712292255},
                            {0.08, 1, 0.925925925926, 1.08},
                            {0.08, 7, 0.583490395262, 0.192072401428},
                            {0.08, 25, 0.146017904913, 0.093678779052},
                            {0.08, 60, 0.00987585422471, 0.0807979487636},
                            {0.1, 1, 0.909090909091, 1.1},
                            {0.1, 7, 0.513158118231, 0.205405499701},
                            {0.1, 25, 0.0922959981771, 0.11016807219},
                            {0.1, 60, 0.00328427028147, 0.100329509226},
                            {0.12, 1, 0.892857142857, 1.12},
                            {0.12, 7, 0.452349215337, 0.219117735901},
                            {0.12, 25, 0.0588233065523, 0.12749996981},
                            {0.12, 60, 0.00111408580253, 0.120133839405},
                            {0.15, 1, 0.869565217391, 1.15},
                            {0.15, 7, 0.375937039923, 0.240360363611},
                            {0.15, 25, 0.0303776372095, 0.15469940232},
                            {0.15, 60, 0.000228102255045, 0.150034223145},
                            {0.2, 1, 0.833333333333, 1.2},
                            {0.2, 7, 0.279081647234, 0.277423926347},
                            {0.2, 25, 0.0104825960104, 0.202118728982},
                            {0.2, 60, 1.77470117623e-05, 0.200003549465}};
  for (const Exact& row : rows) {
    CHECK(near_rel(discount_factor(row.rate, row.years), row.present_worth, 1e-11));
    CHECK(near_rel(capital_recovery(row.rate, row.years), row.capital_recovery, 1e-11));
  }
}

TEST_SUITE_END();
