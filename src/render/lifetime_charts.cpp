#include "render/lifetime_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "mendworth/render.hpp"
#include "numeric/distributions.hpp"
#include "numeric/weibull.hpp"
#include "render/chart_scale.hpp"
#include "render/lifetime_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr int curve_points = 61;
constexpr double nearest_to_all = 1e-12;  ///< a share on Weibull paper stays so far from 0 and 1

/// Beyond the last failure there is room for the law to go on, but it must not squeeze what was seen.
double last_age(const GroupLifetime& group) {
  const double seen = group.curve.steps.empty() ? 0 : group.curve.steps.back().time;
  if (!group.fit) return seen;
  const double median = group.fit->median.value;
  if (seen <= 0) return 2 * median;
  return std::max(1.05 * seen, std::min(1.2 * median, 3 * seen));
}

std::string summary(const Lifetime& l, const GroupLifetime& g) {
  std::string words = g.name.empty() ? "" : g.name + ": ";
  words += fmt::format("{} failed, {} working", number_text(failures_of(g)), number_text(g.working));
  if (!g.fit) return words + ", no law";
  return words + fmt::format(", shape {}, median {} {}", life_text(g.fit->shape.value),
                             life_text(g.fit->median.value), name_of(l.unit));
}

std::string limits_name(const Lifetime& l) { return confidence_text(l.confidence) + " limits: low"; }

/// Half way down each step: where the curve of a law passes if it passes well (W. Q. Meeker and L. A. Escobar,
/// Statistical Methods for Reliability Data, 1998, chapter 6). So the last step, down to 0, has a place too.
std::vector<ChartPoint> middles_of(const SurvivalCurve& curve) {
  std::vector<ChartPoint> points;
  double before = 1;
  for (const SurvivalStep& step : curve.steps) {
    const double middle = (before + step.working) / 2;
    before = step.working;
    if (step.time > 0 && middle > 0 && middle < 1) points.push_back({step.time, 1 - middle});
  }
  return points;
}

/// The law from one age to another, with limits that are symmetric in shape (ln x - ln scale), by the delta method.
std::vector<ChartPoint> law_of(const WeibullFit& fit, double confidence, double log_low, double log_high) {
  const double z = normal_quantile(0.5 + confidence / 2);
  const auto failed = [](double y) {
    return std::clamp(-std::expm1(-std::exp(y)), nearest_to_all, 1 - nearest_to_all);
  };
  std::vector<ChartPoint> points;
  for (int i = 0; i < curve_points; ++i) {
    const double x = log_low + (log_high - log_low) * i / (curve_points - 1);
    const double y = fit.shape.value * (x - std::log(fit.scale.value));
    const double variance = fit.shape.value * fit.shape.value * fit.var_log_scale -
                            2 * fit.shape.value * y * fit.cov_log_scale_log_shape + y * y * fit.var_log_shape;
    const double off = z * std::sqrt(std::max(0.0, variance));
    points.push_back({std::exp(x), failed(y), failed(y - off), failed(y + off)});
  }
  return points;
}

}  // namespace

Chart survival_chart(const Lifetime& l, const GroupLifetime& group) {
  Chart chart;
  const double end = last_age(group);
  if (!(end > 0) || !std::isfinite(end)) return chart;
  chart.name = "plot " + group.name;
  chart.title = "The share still working, by age";
  chart.description = summary(l, group) + ".";
  constexpr double fine = 100;  // below it parts of a unit matter
  chart.x = {.name = "age", .unit = name_of(l.unit), .digits = end < fine ? 2 : 0, .reach = {0, end}};
  chart.y = {.name = "still working", .share = true, .reach = {0, 1}};
  if (group.fit) {
    ChartSeries law{.name = "Weibull law"};
    for (int i = 0; i < curve_points; ++i) {
      const double age = end * i / (curve_points - 1);
      law.points.push_back({age, survival({group.fit->scale.value, group.fit->shape.value}, age)});
    }
    chart.series.push_back(std::move(law));
  }
  if (!group.curve.steps.empty()) {
    ChartSeries curve{.name = group.curve.by_intervals ? "recorded (Turnbull)" : "recorded (Kaplan & Meier)",
                      .mark = ChartSeries::Mark::steps};
    curve.points.push_back({0, 1});
    for (const SurvivalStep& step : group.curve.steps) {
      const bool limited = !group.curve.by_intervals && (step.low > 0 || step.high < 1);
      if (limited) curve.low_name = limits_name(l);
      if (limited) curve.high_name = "high";
      curve.points.push_back({step.time, step.working, limited ? std::optional(step.low) : std::nullopt,
                              limited ? std::optional(step.high) : std::nullopt});
    }
    chart.series.push_back(std::move(curve));
  }
  return chart;
}

Chart weibull_paper(const Lifetime& l) {
  Chart chart;
  chart.name = "paper";
  chart.title = l.part.empty() ? "How long the pieces last" : l.part + ": how long they last";
  chart.description = "Weibull probability paper. ";
  for (const GroupLifetime& group : l.groups) chart.description += summary(l, group) + ". ";
  chart.description +=
      fmt::format("Bands: {} limits of the law, normal approximation.", confidence_text(l.confidence));
  chart.only_image = chart.legend = true;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  const auto take = [&](double age) {
    low = std::min(low, std::log(age));
    high = std::max(high, std::log(age));
  };
  for (const GroupLifetime& group : l.groups) {
    chart.series.push_back({.name = summary(l, group), .mark = ChartSeries::Mark::points});
    chart.series.back().points = middles_of(group.curve);
    for (const ChartPoint& point : chart.series.back().points) take(point.x);
    if (!group.fit) continue;
    take(group.fit->b10.value);
    take(group.fit->scale.value);
  }
  if (low > high) low = high = 0;
  const double beside = std::max(0.25, 0.06 * (high - low));
  chart.x = {.name = "age",
             .unit = name_of(l.unit),
             .scale = ChartAxis::Scale::logarithmic,
             .reach = {std::exp(low - beside), std::exp(high + beside)}};
  chart.y = {.name = "failed",
             .unit = "%",
             .scale = ChartAxis::Scale::failed,
             .share = true,
             .reach = {0.009, 0.992}};
  for (std::size_t i = 0; i < l.groups.size(); ++i) {
    if (!l.groups[i].fit) continue;
    chart.series[i].fit = law_of(*l.groups[i].fit, l.confidence, low - beside, high + beside);
    chart.series[i].low_name = limits_name(l);
    chart.series[i].high_name = "high";
  }
  return chart;
}

std::string lifetime_svg(const Lifetime& lifetime) {
  constexpr int width = 760;
  return chart_svg_file(weibull_paper(lifetime), width);
}

}  // namespace mendworth
