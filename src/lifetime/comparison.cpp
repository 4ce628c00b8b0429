#include "lifetime/comparison.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "numeric/distributions.hpp"

namespace mendworth::lifetime {
namespace {

LifeEstimate median_ratio(const GroupFit& first, const GroupFit& second, double confidence) {
  const LogMedian a = log_median(*first.fitted, first.likelihood->observations().centre);
  const LogMedian b = log_median(*second.fitted, second.likelihood->observations().centre);
  const double error = std::sqrt(a.variance + b.variance);
  const double reach = normal_quantile(0.5 + confidence / 2) * error;
  LifeEstimate out;
  out.value = std::exp(b.value - a.value);
  out.error = out.value * error;
  out.normal_low = std::exp(b.value - a.value - reach);
  out.normal_high = std::exp(b.value - a.value + reach);
  out.profile_high = std::numeric_limits<double>::infinity();
  return out;
}

}  // namespace

// Newton's method with halved steps. Given the shape each level goes its own way, so the levels are
// eliminated and one equation for the shape is left.
double common_shape_likelihood(const std::vector<GroupFit>& groups) {
  double information = 0, log_shape = 0;
  for (const GroupFit& group : groups) {
    const double weight = 1 / group.fitted->shown.var_log_shape;
    information += weight;
    log_shape += weight * std::log(group.fitted->maximum.shape);
  }
  double shape = std::exp(log_shape / information);
  std::vector<double> levels;
  for (const GroupFit& group : groups) {
    // The group's own scale, at the new shape.
    const Maximum& own = group.fitted->maximum;
    levels.push_back(group.likelihood->best_level(shape, own.level * shape / own.shape));
  }
  const auto evaluate = [&groups](const std::vector<double>& at, double common) {
    std::vector<Evaluation> out;
    for (std::size_t i = 0; i < at.size(); ++i) out.push_back(groups[i].likelihood->at(at[i], common));
    return out;
  };
  const auto total = [](const std::vector<Evaluation>& evaluations) {
    double sum = 0;
    for (const Evaluation& e : evaluations) sum += e.value;
    return sum;
  };
  std::vector<Evaluation> here = evaluate(levels, shape);
  double value = total(here);
  for (int i = 0; i < 100; ++i) {
    double slope = 0, curvature = 0;
    for (const Evaluation& e : here) {
      slope += e.d_shape - e.d_level_shape * e.d_level / e.d_level_level;
      curvature += e.d_shape_shape - e.d_level_shape * e.d_level_shape / e.d_level_level;
    }
    // With late watching the surface may bend upwards far from the maximum: go uphill by a share of the
    // shape.
    double shape_step = curvature < 0 ? -slope / curvature : std::copysign(0.5 * shape, slope);
    if (!std::isfinite(shape_step)) break;
    shape_step = std::clamp(shape_step, -0.8 * shape, 4 * shape);
    std::vector<double> steps;
    double gain = shape_step * slope;
    for (const Evaluation& e : here) {
      steps.push_back(-(e.d_level + e.d_level_shape * shape_step) / e.d_level_level);
      gain -= e.d_level * e.d_level / e.d_level_level;
    }
    if (!(gain > 1e-11)) break;
    bool moved = false;
    for (double t = 1; t > 1e-9 && !moved; t /= 2) {
      std::vector<double> next = levels;
      for (std::size_t k = 0; k < next.size(); ++k) next[k] += t * steps[k];
      std::vector<Evaluation> there = evaluate(next, shape + t * shape_step);
      const double reached = total(there);
      if (!(reached > value)) continue;
      levels = std::move(next);
      shape += t * shape_step;
      here = std::move(there);
      value = reached;
      moved = true;
    }
    if (!moved) break;
  }
  return value;
}

GroupComparison compare(const std::vector<GroupFit>& groups, const GroupFit& all, double confidence) {
  double separate = 0;
  for (const GroupFit& group : groups) separate += group.fitted->maximum.here.value;
  const double together = all.fitted->maximum.here.value;
  const int others = static_cast<int>(groups.size()) - 1;
  GroupComparison out;
  out.degrees = 2 * others;
  // Rounding may bring a ratio of nothing below 0.
  out.statistic = std::max(0.0, 2 * (separate - together));
  out.chance = chi_squared_tail(out.statistic, out.degrees);
  out.common_shape_degrees = others;
  out.common_shape_statistic = std::max(0.0, 2 * (common_shape_likelihood(groups) - together));
  out.common_shape_chance = chi_squared_tail(out.common_shape_statistic, others);
  if (groups.size() == 2) out.median_ratio = median_ratio(groups[0], groups[1], confidence);
  return out;
}

}  // namespace mendworth::lifetime
