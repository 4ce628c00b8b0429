#include "lifetime/comparison.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>

#include "lifetime/gathered.hpp"
#include "numeric/distributions.hpp"
#include "numeric/root.hpp"

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

template <class Term>
void append_moved(const std::vector<Term>& terms, double Term::*place, double by, std::vector<Term>& to) {
  for (Term term : terms) {
    term.*place += by;
    to.push_back(term);
  }
}

// Both groups in one record, the ages of the failure-free one divided by exp(log_ratio).
Observations brought_together(const Observations& working, const Observations& failing, double log_ratio) {
  Observations out = failing;
  // No place above 0, so that no power overflows.
  out.centre = std::max(failing.centre, working.centre - log_ratio);
  const double failing_by = failing.centre - out.centre;
  out.failures.clear();
  out.survivors.clear();
  out.intervals.clear();
  append_moved(failing.failures, &LogAge::x, failing_by, out.failures);
  append_moved(failing.intervals, &LogInterval::high, failing_by, out.intervals);
  append_moved(failing.survivors, &LogAge::x, failing_by, out.survivors);
  const auto middle = static_cast<std::ptrdiff_t>(out.survivors.size());
  append_moved(working.survivors, &LogAge::x, working.centre - log_ratio - out.centre, out.survivors);
  std::inplace_merge(out.survivors.begin(), out.survivors.begin() + middle, out.survivors.end(),
                     [](const LogAge& a, const LogAge& b) { return a.x < b.x; });
  out.exact_sum += out.exact * failing_by;
  out.truncated = failing.truncated || working.truncated;
  return out;
}

// Supremum of the log-likelihood; infinity where late watching leaves it unknown, which rejects nothing.
double greatest_likelihood(const Observations& seen) {
  const WeibullLikelihood likelihood(seen);
  const std::optional<Maximum> inside = find_maximum(likelihood);
  const bool finite_at_shape_0 =
      seen.exact == 0 && std::all_of(seen.intervals.begin(), seen.intervals.end(),
                                     [](const LogInterval& interval) { return std::isinf(interval.width); });
  if (!finite_at_shape_0) return inside ? inside->here.value : std::numeric_limits<double>::infinity();
  const double at_0 = likelihood.at(likelihood.best_level(0, 0), 0).value;
  return inside ? std::max(inside->here.value, at_0) : at_0;
}

// The fall of the profile shrinks as the ratio grows: a longer life makes the survivals likelier at every
// law.
double median_ratio_at_least(const Observations& working, const GroupFit& failing, double twice_fall) {
  if (working.survivors.empty()) return 0;
  const double shape = failing.fitted->maximum.shape;
  const Observations few_failing = gathered(failing.likelihood->observations(), shape);
  const Observations few_working = gathered(working, shape);
  // Of the same few ages, so that what is lost with the others cancels.
  const double found_again = greatest_likelihood(few_failing);
  const double supremum = std::isfinite(found_again) ? found_again : failing.fitted->maximum.here.value;
  const auto excess = [&](double log_ratio) {
    const double fall = supremum - greatest_likelihood(brought_together(few_working, few_failing, log_ratio));
    return 2 * std::max(0.0, fall) - twice_fall;
  };
  // Hazards go with ratio^shape.
  constexpr double farthest = 300;  // in ln(ratio)
  double inner = 0;
  const double direction = excess(inner) > 0 ? 1 : -1;
  for (double step = 1 / shape; std::abs(inner) < farthest; step *= 2) {
    const double outer = direction * std::min(std::abs(inner) + step, farthest);
    if (excess(outer) * direction <= 0) {
      const Crossings found =
          find_crossings(excess, std::min(inner, outer), std::max(inner, outer), 2, 1e-9, 25);
      return found.at.empty() ? 0 : std::exp(found.at.front());
    }
    inner = outer;
  }
  return direction > 0 ? std::exp(farthest) : 0;
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

bool is_failure_free(const Observations& seen) {
  return seen.exact == 0 && seen.between == 0 && seen.pieces_at_zero == 0;
}

GroupComparison compare_failure_free(const Observations& working, const GroupFit& failing,
                                     const GroupFit& all, double confidence) {
  GroupComparison out;
  out.degrees = 2;
  // The failure-free group adds ln 1 to the likelihood of laws of its own.
  out.statistic = std::max(0.0, 2 * (failing.fitted->maximum.here.value - all.fitted->maximum.here.value));
  out.chance = chi_squared_tail(out.statistic, out.degrees);
  out.common_shape_degrees = 1;
  out.common_shape_statistic = out.statistic;
  out.common_shape_chance = chi_squared_tail(out.statistic, out.common_shape_degrees);
  FailureFreeGroup ratio;
  ratio.median_ratio_at_least =
      median_ratio_at_least(working, failing, chi_squared_quantile(confidence, out.degrees));
  out.failure_free = ratio;
  return out;
}

}  // namespace mendworth::lifetime
