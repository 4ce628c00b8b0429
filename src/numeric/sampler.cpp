#include "numeric/sampler.hpp"

#include <array>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <stdexcept>
#include <vector>

namespace mendworth {
namespace {

using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

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

Sampler::Sampler(const Quantity& quantity) : quantity_(quantity), range_(quantity.high() - quantity.low()) {
  if (quantity.is_fixed()) return;
  const double mode = (quantity.likely() - quantity.low()) / range_;
  if (quantity.spread() == Spread::triangular) rising_share_ = mode;
  if (quantity.spread() == Spread::beta) beta_ = tabulate_beta(mode);
}

double Sampler::operator()(double u) const noexcept {
  switch (quantity_.spread()) {
    case Spread::fixed: break;
    case Spread::uniform: return quantity_.low() + range_ * u;
    case Spread::triangular:
      return u < rising_share_ ? quantity_.low() + range_ * std::sqrt(u * rising_share_)
                               : quantity_.high() - range_ * std::sqrt((1 - u) * (1 - rising_share_));
    case Spread::beta: return quantity_.low() + range_ * beta_.quantile(u);
  }
  return quantity_.low();
}

double normal_quantile(double u) {
  if (!(u > 0 && u < 1)) throw std::domain_error("a normal quantile needs a share strictly between 0 and 1");
  return boost::math::quantile(boost::math::normal_distribution<double, Policy>(), u);
}

}  // namespace mendworth
