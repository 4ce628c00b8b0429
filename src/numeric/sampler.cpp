#include "numeric/sampler.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace mendworth {
namespace {

// The beta law on 0..1 whose mode is `mode`, shape 4.
InverseTable tabulate_beta(double mode) {
  constexpr std::size_t count = 160;
  // sin^2 edges crowd at both ends, where the density may rise like a root and a quantile like another.
  std::vector<double> edges(count + 1);
  for (std::size_t i = 0; i <= count; ++i) {
    const double s = std::sin(std::numbers::pi / 2 * static_cast<double>(i) / static_cast<double>(count));
    edges[i] = s * s;
  }
  edges[count] = 1;

  // Gauss-Legendre, 3 points on 0..1.
  const double offset = std::sqrt(0.15);
  const std::array<double, 3> place = {0.5 - offset, 0.5, 0.5 + offset};
  constexpr std::array<double, 3> weight = {5.0 / 18, 8.0 / 18, 5.0 / 18};

  const double rise = 4 * mode;
  const double fall = 4 * (1 - mode);
  std::vector<InverseTable::Cell> cells(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double width = edges[i + 1] - edges[i];
    double mass = 0;
    double moment = 0;
    for (std::size_t k = 0; k < place.size(); ++k) {
      const double x = edges[i] + width * place[k];
      const double density = weight[k] * std::exp(rise * std::log(x) + fall * std::log1p(-x));
      mass += density;
      moment += density * place[k];
    }
    cells[i] = {mass * width, moment / mass};
  }
  return InverseTable(edges, cells);
}

}  // namespace

Sampler::Sampler(const Quantity& quantity)
    : spread_(quantity.spread()),
      low_(quantity.low()),
      high_(quantity.high()),
      range_(quantity.high() - quantity.low()) {
  if (quantity.is_fixed()) return;
  const double mode = (quantity.likely() - low_) / range_;
  if (spread_ == Spread::triangular) rising_share_ = mode;
  if (spread_ == Spread::beta) beta_ = QuantileTable(tabulate_beta(mode));
}

}  // namespace mendworth
