#include "lifetime/gathered.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace mendworth::lifetime {
namespace {

constexpr std::size_t many_ages = 5000;
constexpr double cells_per_efold = 50;  // of the cumulative hazard

std::vector<LogAge> gathered_ages(const std::vector<LogAge>& ages, double shape) {
  if (ages.size() <= many_ages) return ages;
  struct Cell {
    double index = 0, weight = 0, sum = 0, squares = 0;
  };
  std::vector<LogAge> out;
  const auto close = [&out](const Cell& cell, double middle) {
    if (cell.weight == 0) return;
    const double mean = cell.sum / cell.weight;
    const double deviation = std::sqrt(std::max(0.0, cell.squares / cell.weight - mean * mean));
    out.push_back({middle + mean - deviation, cell.weight / 2});
    out.push_back({middle + mean + deviation, cell.weight / 2});
  };
  // Terms that are taken back have a negative weight: they go into cells of their own.
  for (const double sign : {1.0, -1.0}) {
    Cell cell;
    double middle = 0;
    for (const LogAge& age : ages) {
      if (age.weight * sign < 0) continue;
      const double index = std::floor(age.x * shape * cells_per_efold);
      if (index != cell.index || cell.weight == 0) {
        close(cell, middle);
        cell = Cell{index, 0, 0, 0};
        middle = (index + 0.5) / (shape * cells_per_efold);
      }
      const double off = age.x - middle;
      cell.weight += age.weight;
      cell.sum += age.weight * off;
      cell.squares += age.weight * off * off;
    }
    close(cell, middle);
  }
  return out;
}

}  // namespace

Observations gathered(const Observations& observations, double shape) {
  Observations out = observations;
  out.failures = gathered_ages(observations.failures, shape);
  out.survivors = gathered_ages(observations.survivors, shape);
  return out;
}

}  // namespace mendworth::lifetime
