#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <random>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "domain/adding_up.hpp"
#include "mendworth/render.hpp"
#include "support/sample_quote.hpp"

using namespace mendworth;
using namespace mendworth::testing;

TEST_CASE("printed parts add up to the printed total, by hand") {
  CHECK(adding_up({1.0 / 3, 1.0 / 3, 1.0 / 3}, {100}, {"EUR", 2}) == std::vector<Money>{{34}, {33}, {33}});
  // 0.504 would round to 0.50 and 0.506 to 0.51: the cent that is missing goes to what lost most, 0.504.
  CHECK(adding_up({0.504, 0.506, 0.003}, {102}, {"EUR", 2}) == std::vector<Money>{{51}, {51}, {0}});
  CHECK(adding_up({2.6, 2.6, -0.8}, {4}, {"EUR", 0}) == std::vector<Money>{{2}, {3}, {-1}});
  CHECK(adding_up({}, {0}, {"EUR", 2}).empty());
  CHECK_THROWS_AS(static_cast<void>(adding_up({1.0, 2.0}, {310}, {"EUR", 2})), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(adding_up({}, {1}, {"EUR", 2})), std::invalid_argument);
}

TEST_CASE("whatever the parts are, they add up and none is off by more than a minor unit") {
  std::mt19937_64 engine(20261126);
  std::uniform_real_distribution<double> size(-400.0, 900.0);
  for (int run = 0; run < 2000; ++run) {
    const int digits = run % 4;
    const double per_unit = std::pow(10.0, digits);
    std::vector<double> parts(1 + static_cast<std::size_t>(run) % 9);
    double sum = 0;
    for (double& part : parts) {
      part = size(engine) / per_unit;
      sum += part;
    }
    const Money total = rounded(sum, {"EUR", digits});
    const std::vector<Money> sums = adding_up(parts, total, {"EUR", digits});
    std::int64_t printed = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      printed += sums[i].minor;
      CHECK(std::abs(static_cast<double>(sums[i].minor) - parts[i] * per_unit) <= 1 + 1e-6);
    }
    CHECK(printed == total.minor);
  }
}

namespace {

// The last figure of each row from "Expected income" to the margin under it, in cents.
std::vector<std::int64_t> income_column(const std::string& text) {
  std::istringstream lines(text);
  std::vector<std::int64_t> cents;
  for (std::string line; std::getline(lines, line);) {
    if (cents.empty() && line.find("Expected income") == std::string::npos) continue;
    const std::size_t space = line.find_last_of(' ');
    if (line.find('.') == std::string::npos) continue;  // a rule between rows
    cents.push_back(std::llround(100 * std::stod(line.substr(space + 1))));
    if (line.find("Expected margin") != std::string::npos) break;
  }
  return cents;
}

}  // namespace

TEST_CASE("what a job earns and costs adds up on the shop's page as printed") {
  ShopPage page = sample_shop_page();
  page.choices.resize(1);
  page.proposed = 0;
  ShopChoice& choice = page.choices[0];
  choice.cost = {10.004, 3.004, 1.004, -2.0, 0.004, 0.0, 0.0, 0.0};  // 12.016; rounded one by one, 12.00
  choice.expected_income = 20.00;
  choice.margin = choice.expected_income - choice.cost.total();
  const std::vector<std::int64_t> column = income_column(shop_page(page, {.show = {"all"}}));
  REQUIRE(column.size() == 11);  // income, eight costs, their total, margin
  CHECK(std::accumulate(column.begin() + 1, column.begin() + 9, std::int64_t{0}) == column[9]);
  CHECK(column[9] == 1202);
  CHECK(column[10] == 798);
  CHECK(column[0] - column[9] == column[10]);
}
