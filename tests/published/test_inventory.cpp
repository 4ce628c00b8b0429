// Demand, newsvendor and order quantities, against printed examples and an independent library.
#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "numeric/demand.hpp"
#include "numeric/order_quantity.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;
using mendworth::test::published::near_rel;

namespace {

/// The rows of a table of numbers below its comments and header; an empty field is NaN.
std::vector<std::vector<double>> rows_of(const std::string& name) {
  std::ifstream file(std::string(MENDWORTH_SOURCE_DIR) + "/tests/published/data/" + name);
  REQUIRE(file.good());
  std::vector<std::vector<double>> rows;
  bool header = true;
  for (std::string line; std::getline(file, line);) {
    if (line.starts_with('#')) continue;
    if (header) {
      header = false;
      continue;
    }
    std::vector<double> row;
    std::istringstream fields(line + ",");
    for (std::string field; std::getline(fields, field, ',');)
      row.push_back(field.empty() ? std::numeric_limits<double>::quiet_NaN() : std::stod(field));
    rows.push_back(row);
  }
  return rows;
}

/// A normal demand, cut into steps of 1/`fineness`.
Demand normal(double mean, double deviation, int fineness) {
  const auto below = [&](double x) { return 0.5 * std::erfc((mean - x) / deviation / std::sqrt(2.0)); };
  std::vector<double> chances;
  for (int k = 0; k <= fineness * (mean + 9 * deviation); ++k) {
    const double x = static_cast<double>(k) / fineness, half = 0.5 / fineness;
    chances.push_back(below(x + half) - below(x - half));
  }
  return Demand(chances);
}

}  // namespace

TEST_SUITE_BEGIN("published: inventory");

// Computed with scipy 1.10.1, see the table.
TEST_CASE("Poisson demand: chances, tails and expected shortage") {
  const auto rows = rows_of("poisson.csv");
  REQUIRE(rows.size() > 200);
  for (const auto& row : rows) {
    CAPTURE(row[0]);
    CAPTURE(row[1]);
    const Demand demand = Demand::poisson(row[0]);
    const int k = static_cast<int>(row[1]);
    CHECK(near_rel(demand.chance(k), row[2], 1e-11));
    CHECK(near_abs(demand.at_most(k), row[3], 1e-13));
    CHECK(near_rel(demand.above(k), row[4], 1e-10));
    CHECK(near_abs(demand.expected_shortage(k), row[5], 1e-12 * (1 + row[0])));
  }
}

// Published: L. V. Snyder and Z.-J. M. Shen, Fundamentals of Supply Chain Theory, 2nd ed. (Wiley 2019), example 4.7,
// and a further Poisson example, as printed in the documentation of stockpyl (commit 0bae176c).
TEST_CASE("newsvendor with Poisson demand") {
  const Newsvendor six = newsvendor(Demand::poisson(6), 4.0, 1.0);
  CHECK(six.quantity == 8);
  CHECK(near_rel(six.cost, 3.5701069457709416, 1e-12));
  CHECK(near_rel(newsvendor_cost(Demand::poisson(6), 5, 4.0, 1.0), 6.590296024616343, 1e-12));
  const Newsvendor fifty = newsvendor(Demand::poisson(50), 0.70, 0.18);
  CHECK(fifty.quantity == 56);
  CHECK(near_rel(fifty.cost, 1.797235211809178, 1e-12));
}

// Published: the same, examples 4.2 and 4.3 and the README's; a continuous demand, here in steps of 1/100, which is
// off by half a step in quantity and in the second order of a step in cost.
TEST_CASE("newsvendor with normal demand") {
  const Demand papers = normal(50, 8, 100);
  const Newsvendor best = newsvendor(papers, 70, 18);  // per hundredth of a piece: 0.70 and 0.18
  CHECK(near_rel(best.critical_ratio, 0.795454545455, 1e-11));
  CHECK(near_abs(best.quantity / 100.0, 56.60395592743389, 0.01));
  CHECK(near_rel(best.cost / 10'000, 1.9976051931766445, 1e-5));
  CHECK(near_rel(newsvendor_cost(papers, 6000, 70, 18) / 10'000, 2.156131552870389, 1e-5));
  // Example 4.2 as a profit: (price - cost) mean less the cost of being wrong; price 1, cost 0.3, salvage 0.12.
  CHECK(near_rel((1.0 - 0.3) * 50 - best.cost / 10'000, 33.002394806823354, 1e-5));

  const Newsvendor readme = newsvendor(normal(120, 10, 100), 18, 2);
  CHECK(near_abs(readme.quantity / 100.0, 132.815515655446, 0.01));
  CHECK(near_rel(readme.cost / 100, 35.09966638649737, 1e-5));

  // Inputs published by P. Brandimarte (text on the newsvendor); the quantity computed with scipy 1.10.1.
  const Newsvendor below_mean = newsvendor(normal(10'000, 2000, 1), 15 - 10, 10 - 3);
  CHECK(near_abs(below_mean.quantity, 9579.1432115, 1));
}

// Published: the same, problem 4.8(b): lognormal demand, mu 6, sigma 0.3; printed quantity 295.63, cost 29.4425.
TEST_CASE("newsvendor with lognormal demand") {
  const auto below = [](double x) {
    return x <= 0 ? 0.0 : 0.5 * std::erfc((6.0 - std::log(x)) / 0.3 / std::sqrt(2.0));
  };
  std::vector<double> chances;
  for (int k = 0; k <= 40'000; ++k) chances.push_back(below((k + 0.5) / 10) - below((k - 0.5) / 10));
  const Newsvendor best = newsvendor(Demand(chances), 0.1765, 1.0);
  CHECK(near_abs(best.quantity / 10.0, 295.6266448071368, 0.1));
  CHECK(near_rel(best.cost / 10, 29.44254351324322, 1e-4));
}

// Published: a seller of strawberries (userz.net): cost 3, price 5, salvage 2; demand 0..3 with chances 0.2, 0.3, 0.3,
// 0.2; printed best stock 2, expected profit 1.90; by stock 0, 1.4, 1.9, 1.5.
TEST_CASE("newsvendor with a demand in a table") {
  const Demand demand({0.2, 0.3, 0.3, 0.2});
  CHECK(newsvendor(demand, 5 - 3, 3 - 2).quantity == 2);
  const double profits[] = {0.0, 1.4, 1.9, 1.5};
  for (int stock = 0; stock <= 3; ++stock) {
    const double profit = 2 * demand.mean() - newsvendor_cost(demand, stock, 2, 1);
    CHECK(near_abs(profit, profits[stock], 1e-12));
  }
}

// Published: Snyder and Shen, example 3.1, as printed by stockpyl.
TEST_CASE("economic order quantity") {
  const auto cost = [](double quantity) {
    // Goods of 0.225 each at a holding rate of 1 stand for holding 0.225 a piece.
    const OrderSize year = yearly_cost(quantity, quantity * 0.225, 8, 1300, 1.0);
    return year.ordering + year.holding;
  };
  constexpr double printed = 304.0467800264368;
  CHECK(near_rel(cost(printed), 68.41052550594829, 1e-13));
  CHECK(cost(printed - 0.01) > cost(printed));
  CHECK(cost(printed + 0.01) > cost(printed));
}

namespace {

/// All units at the price that holds from so many on.
struct AllUnits {
  std::vector<std::pair<double, double>> prices;  ///< from, each; rising
  double order_cost, demand, rate;
  [[nodiscard]] OrderSize year(double quantity) const {
    double each = 0;
    for (const auto& [from, price] : prices) each = quantity >= from ? price : each;
    return yearly_cost(quantity, quantity * each, order_cost, demand, rate);
  }
  /// Of all whole quantities.
  [[nodiscard]] int best() const {
    int found = 1;
    for (int quantity = 2; quantity <= 2000; ++quantity)
      found = year(quantity).total() < year(found).total() ? quantity : found;
    return found;
  }
};

}  // namespace

// Published: stockpyl's all-units example; printed quantity 500, cost 472,900. The others computed.
TEST_CASE("all-units discounts, 1") {
  const AllUnits sold{{{0, 500}, {200, 475}, {500, 450}}, 200, 1000, 0.20};
  CHECK(sold.best() == 500);
  CHECK(near_abs(sold.year(500).total(), 472900, 1e-6));
  CHECK(near_abs(sold.year(200).total(), 485500, 1e-6));
  CHECK(near_abs(sold.year(63.2455532034).total(), 506324.555320, 1e-5));
}

// Published: a solved problem (nursingexpertshelp.com): order cost 60, holding 30 %, demand 800; printed totals at 79,
// 100, 200 and 500 pieces, and 200 as the best.
TEST_CASE("all-units discounts, 2") {
  const AllUnits sold{{{1, 53}, {50, 51.5}, {100, 49.5}, {200, 48}, {500, 47}}, 60, 800, 0.30};
  CHECK(sold.best() == 200);
  CHECK(near_abs(sold.year(200).total(), 40080.0, 0.05));
  CHECK(near_abs(sold.year(500).total(), 41221.0, 0.05));
  CHECK(near_abs(sold.year(100).total(), 40822.5, 0.05));
  CHECK(near_abs(sold.year(79).total(), 42417.9, 0.05));
}

// Published: revision notes (acowtancy.com): 2 % off from 350 on; printed quantity 219 without the discount, ordering
// and holding 220 there and 240.5 at 350, purchase saving 240: so 350 it is.
TEST_CASE("all-units discounts, 3") {
  const AllUnits sold{{{1, 10}, {350, 9.8}}, 20, 1200, 0.10}, full{{{1, 10}}, 20, 1200, 0.10};
  CHECK(sold.best() == 350);
  CHECK(full.best() == 219);
  const OrderSize many = sold.year(350), few = full.year(219);
  CHECK(near_abs(many.ordering + many.holding, 240.5, 0.5));
  CHECK(near_abs(few.ordering + few.holding, 220, 1));
  CHECK(near_abs(few.purchase - many.purchase, 240, 1e-9));
}

TEST_SUITE_END();
