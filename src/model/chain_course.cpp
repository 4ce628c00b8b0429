#include "model/chain_course.hpp"

#include <array>
#include <cmath>

#include "numeric/sampler.hpp"
#include "numeric/weibull.hpp"

namespace mendworth {
namespace {

constexpr int life_nodes = 12, shape_nodes = 5;  // of a range
constexpr int midpoints = 32;                    // and twice as many

std::vector<double> nodes(const Quantity& q, int count) {
  if (q.is_fixed()) return {q.base()};
  const Sampler sampler(q);
  std::vector<double> values;
  for (int i = 0; i < count; ++i) values.push_back(sampler((i + 0.5) / count));
  return values;
}

std::vector<double> survival_by(const DeviceLife& life, double step, int steps) {
  std::vector<double> survival;
  for (int j = 0; j <= steps; ++j) survival.push_back(life.survival(j * step));
  return survival;
}

/// M(0), M(step), ...: the renewal equation by the trapezoidal rule for Stieltjes integrals; survival at these times.
std::vector<double> renewals(const std::vector<double>& survival, double step, double growth) {
  std::vector<double> fails(survival.size());  // in a step, at the worth of its middle
  for (std::size_t j = 1; j < fails.size(); ++j)
    fails[j] = (survival[j - 1] - survival[j]) * std::exp(-growth * (static_cast<double>(j) - 0.5) * step);
  // m[i - j] meets the later half of step j and the earlier half of step j + 1.
  std::vector<double> meets(fails.size(), 0.0);
  for (std::size_t j = 1; j + 1 < fails.size(); ++j) meets[j] = 0.5 * (fails[j] + fails[j + 1]);
  std::vector<double> m(fails.size(), 1.0);
  for (std::size_t i = 1; i < m.size(); ++i) {
    std::array<double, 4> sums = {1.0 + 0.5 * fails[i], 0, 0,
                                  0};  // four at a time: no sum waits for the last one
    std::size_t j = 1;
    for (; j + 4 <= i; j += 4) {
      for (std::size_t k = 0; k < sums.size(); ++k) sums[k] += meets[j + k] * m[i - j - k];
    }
    for (; j < i; ++j) sums[0] += meets[j] * m[i - j];
    m[i] = (sums[0] + sums[1] + sums[2] + sums[3]) / (1.0 - 0.5 * fails[1]);
  }
  return m;
}

}  // namespace

DeviceLife::DeviceLife(const Replacement& r) : mean_(r.life_years.base()) {
  const auto means = nodes(r.life_years, life_nodes);
  for (const double shape : nodes(r.life_shape, shape_nodes)) {
    OfShape of_shape{.shape = shape};
    const double scale_of_one = scale_from_mean(1.0, shape);
    for (const double mean : means) {
      of_shape.scales.push_back(mean * scale_of_one);
      of_shape.inverse_powers.push_back(std::pow(of_shape.scales.back(), -shape));
    }
    laws_.push_back(std::move(of_shape));
  }
}

double DeviceLife::survival(double years) const {
  if (years <= 0) return 1.0;
  double sum = 0;
  for (const OfShape& law : laws_) {
    const double of_scale_one = std::pow(years, law.shape);
    double of_shape = 0;
    for (const double inverse : law.inverse_powers) of_shape += std::exp(-of_scale_one * inverse);
    sum += of_shape / static_cast<double>(law.scales.size());
  }
  return sum / static_cast<double>(laws_.size());
}

double DeviceLife::worth_at_end(double growth) const {
  if (growth == 0.0) return 1.0;
  // The error of the midpoint rule falls with the square of the step: two steps put it away.
  const double coarse = worth_by_midpoints(growth, midpoints);
  return (4.0 * worth_by_midpoints(growth, 2 * midpoints) - coarse) / 3.0;
}

/// The integral over u in (0,1) in s, u = s^2 (3 - 2 s), which smooths both ends.
double DeviceLife::worth_by_midpoints(double growth, int points) const {
  double sum = 0, weights = 0;
  for (int i = 0; i < points; ++i) {
    const double s = (i + 0.5) / points;
    const double weight = s * (1 - s);
    const double log_hazard = std::log(-std::log(s * s * (3 - 2 * s)));
    weights += weight;
    for (const OfShape& law : laws_) {
      const double of_scale_one = growth * std::exp(log_hazard / law.shape);
      double of_shape = 0;
      for (const double scale : law.scales) of_shape += std::exp(-scale * of_scale_one);
      sum += weight * of_shape / static_cast<double>(law.scales.size());
    }
  }
  return sum / weights / static_cast<double>(laws_.size());
}

ChainCourse::ChainCourse(const Replacement& r, const std::optional<Quantity>& need, double rate) : life(r) {
  const double growth = std::log1p(rate);
  if (!need) {
    worth_at_end = life.worth_at_end(growth);
    return;
  }
  step = need->high() / steps;
  survival = survival_by(life, step, steps);
  devices = renewals(survival, step, growth);
}

std::vector<double> purchases_by(const DeviceLife& life, double step, int steps, double growth) {
  return renewals(survival_by(life, step, steps), step, growth);
}

}  // namespace mendworth
