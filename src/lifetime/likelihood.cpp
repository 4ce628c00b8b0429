#include "lifetime/likelihood.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

namespace mendworth::lifetime {
namespace {

constexpr double largest_exponent = 700;

// Failures and survivors together, by age.
std::vector<LogAge> all_ages(const Observations& observations) {
  std::vector<LogAge> ages;
  ages.reserve(observations.failures.size() + observations.survivors.size());
  std::merge(observations.failures.begin(), observations.failures.end(), observations.survivors.begin(),
             observations.survivors.end(), std::back_inserter(ages),
             [](const LogAge& a, const LogAge& b) { return a.x < b.x; });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < ages.size();) {
    LogAge sum = ages[i];
    for (++i; i < ages.size() && ages[i].x == sum.x; ++i) sum.weight += ages[i].weight;
    ages[kept++] = sum;
  }
  ages.resize(kept);
  return ages;
}

}  // namespace

WeibullLikelihood::WeibullLikelihood(const Observations& observations)
    : observations_(&observations), hazards_(all_ages(observations)) {}

// The chance of an interval, given survival of its lower end, is 1 - exp(-u) with u = H(high) - H(low).
// Everything is written in ratios to u, so that neither narrow intervals nor tiny hazards cancel: r =
// (du/dshape)/u = high + width/(exp(shape width) - 1), and (d2u/dshape2)/u - r^2 = -(width/(2 sinh(shape
// width/2)))^2.
void WeibullLikelihood::add_intervals(double level, double shape, Evaluation& to) const {
  for (const LogInterval& interval : observations_->intervals) {
    const bool from_new = std::isinf(interval.width);
    const double growth = from_new ? infinity : std::expm1(shape * interval.width);
    const double rest = from_new ? 0 : interval.width / growth;
    const double r = interval.high + rest;
    const double bend = from_new ? 0 : rest * (interval.width + rest);
    const double z = level + shape * interval.high;
    const double log_u = from_new ? z : z - std::log1p(1 / growth);
    if (log_u > std::log(largest_exponent)) continue;  // has failed for certain
    const double u = std::exp(log_u);
    const double g = u > 0 ? u / std::expm1(u) : 1;
    const double curve = g * (1 - g - u);
    const double w = interval.weight;
    to.value += w * (u < 1e-9 ? log_u - u / 2 : std::log(-std::expm1(-u)));
    to.d_level += w * g;
    to.d_shape += w * g * r;
    to.d_level_level += w * curve;
    to.d_level_shape += w * curve * r;
    to.d_shape_shape += w * (curve * r * r - g * bend);
  }
}

Evaluation WeibullLikelihood::at(double level, double shape) const {
  const Observations& seen = *observations_;
  Evaluation out;
  const HazardSums::Value hazards = hazards_.at(shape);
  const double factor = std::exp(std::min(level, largest_exponent));
  if (level > largest_exponent && hazards.sum > 0) {
    out.value = -infinity;
    return out;
  }
  out.value = -factor * hazards.sum;
  out.d_level = out.d_level_level = out.value;
  out.d_shape = out.d_level_shape = -factor * hazards.first;
  out.d_shape_shape = -factor * hazards.second;
  add_intervals(level, shape, out);
  if (seen.exact > 0) {
    out.value += seen.exact * (std::log(shape) + level) + shape * seen.exact_sum - seen.exact_log_ages;
    out.d_level += seen.exact;
    out.d_shape += seen.exact / shape + seen.exact_sum;
    out.d_shape_shape -= seen.exact / (shape * shape);
  }
  return out;
}

double WeibullLikelihood::best_level(double shape, double guess) const {
  const double sum = hazards_.at(shape).sum;
  const double failed = observations_->exact + observations_->between;
  if (!(sum > 0)) return guess;
  if (observations_->intervals.empty()) return std::log(observations_->exact / sum);
  // As if every failure were exact there is too much hazard already: a start from above the maximum would
  // creep down by 1 a step, a start from below is caught by the bound on the step.
  double level = std::min(guess, std::log(failed / sum));
  for (int i = 0; i < 100; ++i) {
    const Evaluation e = at(level, shape);
    if (!(e.d_level_level < 0)) break;
    const double step = std::clamp(-e.d_level / e.d_level_level, -4.0, 2.0);
    level += step;
    if (std::abs(step) < 1e-6) break;
  }
  return level;
}

}  // namespace mendworth::lifetime
