// How does the saving look over two numbers at once?
#include <doctest/doctest.h>

#include <cmath>

#include "answers/saving_grid.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

TEST_SUITE_BEGIN("questions: two numbers at once");

namespace {

WeighSettings against(const std::string& across, const std::string& down) {
  WeighSettings settings{.seed = 2, .futures = 4096, .threads = 2};
  settings.against = {across, down};
  return settings;
}

double saving_with(Case c, const std::string& key, double value, const std::string& other, double at) {
  for_each_quantity(c, [&](const std::string& known, Quantity& q) {
    if (known == key) q = Quantity::exactly(value);
    if (known == other) q = Quantity::exactly(at);
  });
  return *weigh(c, RateBook{}, {.seed = 2, .futures = 4096, .threads = 2, .what_ifs = false}).verdict.saving;
}

}  // namespace

TEST_CASE("over prices a point is what weighing the case at them finds") {
  Case c = minimal_case();
  c.labour.rate_per_hour = Quantity::between(5, 60);
  const auto settings = against("labour.rate_per_hour", "replacement.1.price");
  const Weighing w = weigh(c, RateBook{}, settings);
  REQUIRE(w.grid);
  const SavingGrid& grid = *w.grid;
  REQUIRE(grid.across.values.size() == 7);
  CHECK(near_abs(grid.across.values.front(), 5, 1e-9));
  CHECK(near_abs(grid.across.values.back(), 60, 1e-9));
  // A number that is certain is turned 20 % either way.
  const double price = c.replacements[0].price->base();
  CHECK(near_abs(grid.down.values.front(), 0.8 * price, 1e-9));
  CHECK(near_abs(grid.down.values.back(), 1.2 * price, 1e-9));
  for (const std::size_t row : {0U, 3U, 6U}) {
    for (const std::size_t column : {0U, 4U, 6U}) {
      const double found =
          saving_with(c, grid.across.key, grid.across.values[column], grid.down.key, grid.down.values[row]);
      // The same futures, but for what the rule for later failures, found anew, changes.
      CHECK(near_abs(grid.rows[row][column].saving, found, 0.02 * price));
    }
  }
}

TEST_CASE("over what happens a point is within its error of weighing the case so") {
  Case c = minimal_case();
  c.device.age_years = Quantity::between(2, 6);
  const Weighing w = weigh(c, RateBook{}, against("device.age_years", "risk.diagnosis_right"));
  REQUIRE(w.grid);
  const SavingGrid& grid = *w.grid;
  for (const std::size_t row : {0U, 6U}) {
    for (const std::size_t column : {0U, 6U}) {
      const double found =
          saving_with(c, grid.across.key, grid.across.values[column], grid.down.key, grid.down.values[row]);
      const SavingGrid::Point& point = grid.rows[row][column];
      CAPTURE(point.saving);
      CAPTURE(point.error);
      CAPTURE(found);
      CHECK(near_abs(point.saving, found, 4 * point.error + 0.02 * std::abs(found)));
    }
  }
}

TEST_CASE("a grid wants two different numbers that can be turned") {
  const Case c = minimal_case();
  for (const auto& [across, down] :
       {std::pair{"device.age_years", "device.age_years"}, std::pair{"device.age_years", "device.aeg_years"},
        std::pair{"bulk.order_cost", "device.age_years"}}) {
    CHECK_THROWS_AS((void)weigh(c, RateBook{}, against(across, down)), std::invalid_argument);
  }
}

// Derived: on x + y - 3 over (0, 2) x (0, 2), and on the saddle (x - 1)(y - 1) with one cell.
TEST_CASE("the zero line lies where the saving is nought") {
  SavingGrid grid{.across = {}, .down = {}, .rows = {}, .zero_line = {}};
  grid.across.values = grid.down.values = {0, 1, 2};
  for (const double y : grid.down.values) {
    grid.rows.emplace_back();
    for (const double x : grid.across.values) grid.rows.back().push_back({x + y - 2.5, 0.0});
  }
  const auto line = zero_line_of(grid);
  REQUIRE(line.size() == 3);
  for (const SavingGrid::Piece& piece : line) {
    CHECK(near_abs(piece.across_from + piece.down_from, 2.5, 1e-12));
    CHECK(near_abs(piece.across_to + piece.down_to, 2.5, 1e-12));
  }
  SavingGrid saddle{.across = {}, .down = {}, .rows = {}, .zero_line = {}};
  saddle.across.values = saddle.down.values = {0, 2};
  saddle.rows = {{{1.2, 0}, {-1, 0}}, {{-1, 0}, {1.2, 0}}};
  const auto pieces = zero_line_of(saddle);
  REQUIRE(pieces.size() == 2);
  // The middle is above nought, so the line cuts off the two corners below it.
  for (const SavingGrid::Piece& piece : pieces) {
    const double across = (piece.across_from + piece.across_to) / 2,
                 down = (piece.down_from + piece.down_to) / 2;
    CHECK(std::abs(across - down) > 0.8);
  }
  // With one deep corner the mean of the four is below nought: the line cuts off those above it.
  saddle.rows = {{{1, 0}, {-10, 0}}, {{-1, 0}, {2, 0}}};
  const auto turned = zero_line_of(saddle);
  REQUIRE(turned.size() == 2);
  for (const SavingGrid::Piece& piece : turned) {
    CHECK(std::abs(piece.across_from + piece.across_to - piece.down_from - piece.down_to) < 2 * 0.8);
  }
}

TEST_SUITE_END();
