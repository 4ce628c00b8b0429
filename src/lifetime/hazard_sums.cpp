#include "lifetime/hazard_sums.hpp"

#include <cmath>

namespace mendworth::lifetime {
namespace {

constexpr std::size_t few_ages = 500;  // summed up faster than a series is tabulated
constexpr double anchor_ratio = 1.4;   // neighbours meet within a fifth of both

}  // namespace

HazardSums::Value HazardSums::directly(double shape) const {
  Value out;
  for (const LogAge& age : ages_) {
    const double term = age.weight * std::exp(shape * age.x);
    const double moment = term * age.x;
    out.sum += term;
    out.first += moment;
    out.second += moment * age.x;
  }
  return out;
}

const HazardSums::Anchor& HazardSums::anchor(int index) const {
  const auto [found, is_new] = anchors_.try_emplace(index);
  Anchor& out = found->second;
  if (!is_new) return out;
  out.shape = std::pow(anchor_ratio, index);
  std::array<double, order> inverse{};
  for (std::size_t k = 1; k < order; ++k) inverse[k] = 1 / static_cast<double>(k);
  for (const LogAge& age : ages_) {
    const double v = out.shape * age.x;
    double term = age.weight * std::exp(v);
    out.moments[0] += term;
    for (std::size_t k = 1; k < order; ++k) {
      term *= v * inverse[k];
      out.moments[k] += term;
    }
  }
  return out;
}

HazardSums::Value HazardSums::at(double shape) const {
  if (ages_.size() <= few_ages || !(shape > 1e-6 && shape < 1e6)) return directly(shape);
  const Anchor& near = anchor(static_cast<int>(std::lround(std::log(shape) / std::log(anchor_ratio))));
  // sum(r) = sum of moments r^k; its derivatives in the shape are those in r over the anchor.
  const double r = (shape - near.shape) / near.shape;
  double sum = 0, first = 0, second = 0;
  for (std::size_t k = order; k-- > 0;) {
    second = second * r + 2 * first;
    first = first * r + sum;
    sum = sum * r + near.moments[k];
  }
  return {sum, first / near.shape, second / (near.shape * near.shape)};
}

}  // namespace mendworth::lifetime
