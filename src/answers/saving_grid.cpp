#include "answers/saving_grid.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include "answers/knobs.hpp"
#include "domain/inputs.hpp"
#include "futures/parallel.hpp"

namespace mendworth {
namespace {

constexpr int points_a_side = 7;
constexpr double part_either_way = 0.2;  // of a number that is certain

struct Turned {
  Knob knob;
  SavingGrid::Axis axis;
};

Turned turned(const Case& c, const std::string& key) {
  Turned found;
  for_each_quantity(c, [&](const std::string& known, const Quantity& value) {
    if (known != key) return;
    found.knob = entry_knob(c, key, value);
    double low = value.low(), high = value.high();
    if (value.is_fixed()) {
      const Limits& limits = input_of(key).limits;
      const double reach = part_either_way * std::abs(low);
      low = std::max(limits.low, value.low() - reach);
      high = std::min(limits.high, value.high() + reach);
    }
    found.axis = {.key = key, .label = found.knob.label, .current = value.base(), .values = {}};
    for (int i = 0; i < points_a_side; ++i)
      found.axis.values.push_back(low + (high - low) * i / (points_a_side - 1));
  });
  return found;
}

}  // namespace

std::vector<std::string> keys_against(const Case& c) {
  std::vector<std::string> keys;
  for_each_quantity(c, [&](const std::string& key, const Quantity& value) {
    const bool moves = !value.is_fixed() || value.base() != 0.0;
    if (moves && input_of(key).bears_on != BearsOn::other) keys.push_back(key);
  });
  return keys;
}

void check_grid_keys(const Case& c, const std::vector<std::string>& keys) {
  const auto known = keys_against(c);
  const bool two = keys.size() == 2 && keys[0] != keys[1] &&
                   std::all_of(keys.begin(), keys.end(), [&](const std::string& key) {
                     return std::find(known.begin(), known.end(), key) != known.end();
                   });
  if (!two) throw std::invalid_argument("a grid needs two different numbers of the case");
}

SavingGrid saving_grid(const WhatIf& what_if, const Case& c, const std::vector<std::string>& keys,
                       int threads) {
  const Turned across = turned(c, keys[0]), down = turned(c, keys[1]);
  const auto changed = [&](double x, double y, Hypothesis& hypothesis) {
    Case other = c;
    across.knob.turn(other, hypothesis, x);
    down.knob.turn(other, hypothesis, y);
    return other;
  };

  // At a corner other plans may be best than in the middle.
  Courses courses = what_if.courses();
  for (const double x : {across.axis.values.front(), across.axis.values.back()}) {
    for (const double y : {down.axis.values.front(), down.axis.values.back()}) {
      Hypothesis hypothesis;
      const Case corner = changed(x, y, hypothesis);
      courses = what_if.with_best_of(courses, corner, hypothesis);
    }
  }

  SavingGrid grid{.across = across.axis, .down = down.axis, .rows = {}, .zero_line = {}};
  const std::size_t width = grid.across.values.size(), height = grid.down.values.size();
  grid.rows.assign(height, std::vector<SavingGrid::Point>(width));
  for_each_parallel(static_cast<int>(width * height), threads, [&](int, int i) {
    const auto point = static_cast<std::size_t>(i);
    const std::size_t row = point / width, column = point % width;
    Hypothesis hypothesis;
    const Case other = changed(grid.across.values[column], grid.down.values[row], hypothesis);
    const SavingValue value = what_if.saving(courses, other, hypothesis);
    grid.rows[row][column] = {value.saving, value.error};
  });
  grid.zero_line = zero_line_of(grid);
  return grid;
}

std::vector<SavingGrid::Piece> zero_line_of(const SavingGrid& grid) {
  const auto &x = grid.across.values, &y = grid.down.values;
  std::vector<SavingGrid::Piece> line;
  using Place = std::pair<double, double>;
  for (std::size_t r = 0; r + 1 < y.size(); ++r) {
    for (std::size_t c = 0; c + 1 < x.size(); ++c) {
      // The corners in turn, and where each side is crossed.
      const std::array<double, 4> value = {grid.rows[r][c].saving, grid.rows[r][c + 1].saving,
                                           grid.rows[r + 1][c + 1].saving, grid.rows[r + 1][c].saving};
      const std::array<Place, 4> corner = {Place{x[c], y[r]}, Place{x[c + 1], y[r]},
                                           Place{x[c + 1], y[r + 1]}, Place{x[c], y[r + 1]}};
      std::vector<Place> crossed;
      for (std::size_t side = 0; side < 4; ++side) {
        const std::size_t next = (side + 1) % 4;
        if ((value[side] > 0) == (value[next] > 0)) continue;
        const double share = value[side] / (value[side] - value[next]);
        crossed.emplace_back(corner[side].first + share * (corner[next].first - corner[side].first),
                             corner[side].second + share * (corner[next].second - corner[side].second));
      }
      const auto join = [&](std::size_t a, std::size_t b) {
        line.push_back({crossed[a].first, crossed[a].second, crossed[b].first, crossed[b].second});
      };
      if (crossed.size() == 2) join(0, 1);
      if (crossed.size() == 4) {
        const bool middle = value[0] + value[1] + value[2] + value[3] > 0;
        const std::size_t partner =
            (value[0] > 0) == middle ? 1 : 3;  // the first corner is of the middle's side
        join(0, partner);
        join(2, (partner + 2) % 4);
      }
    }
  }
  return line;
}

}  // namespace mendworth
