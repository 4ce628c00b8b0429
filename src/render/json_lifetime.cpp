#include <string>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"
#include "render/lifetime_words.hpp"

// Ages are in the unit named at the top; keys that end in _pieces count pieces, in _share are 0..1. The schema beside
// this file says what each means.
namespace mendworth {

namespace {

Json limit(double value) { return is_limit(value) ? number(value) : Json(nullptr); }

Json sentence(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json estimate_json(const LifeEstimate& e) {
  return {{"value", number(e.value)},
          {"standard_error", number(e.error)},
          {"normal_low", limit(e.normal_low)},
          {"normal_high", limit(e.normal_high)},
          {"profile_low", limit(e.profile_low)},
          {"profile_high", limit(e.profile_high)}};
}

Json timed_share_json(const TimedShare& t) {
  return {{"age", number(t.time)}, {"working_share", estimate_json(t.working)}};
}

Json fit_json(const WeibullFit& f) {
  return {{"shape", estimate_json(f.shape)},
          {"scale_age", estimate_json(f.scale)},
          {"median_age", estimate_json(f.median)},
          {"b10_age", estimate_json(f.b10)},
          {"working_at", list(f.at_times, timed_share_json)},
          {"log_likelihood", number(f.log_likelihood)},
          {"variance_log_scale", number(f.var_log_scale)},
          {"covariance_log_scale_log_shape", number(f.cov_log_scale_log_shape)},
          {"variance_log_shape", number(f.var_log_shape)}};
}

Json one_sided_json(const OneSidedLimit& l) {
  return {{"assumed_shape", number(l.assumed_shape)},
          {"confidence_share", number(l.confidence)},
          {"scale_at_least_age", number(l.scale_at_least)},
          {"median_at_least_age", number(l.median_at_least)},
          {"b10_at_least_age", number(l.b10_at_least)}};
}

Json step_json(const SurvivalStep& s) {
  return {{"age", number(s.time)},
          {"at_risk_pieces", number(s.at_risk)},
          {"failed_pieces", number(s.failed)},
          {"working_share", number(s.working)},
          {"standard_error", number(s.error)},
          {"low_share", number(s.low)},
          {"high_share", number(s.high)}};
}

Json curve_json(const SurvivalCurve& c) {
  return {{"method", c.by_intervals ? "turnbull" : "kaplan_meier"}, {"steps", list(c.steps, step_json)}};
}

Json test_json(const FitTest& t) {
  return {{"method", t.method}, {"statistic", number(t.statistic)}, {"chance_share", number(t.chance)}};
}

Json group_json(const GroupLifetime& g) {
  return {{"name", g.name},
          {"failure_seen_pieces", number(g.failed_exact)},
          {"failed_between_looks_pieces", number(g.failed_between)},
          {"failed_before_first_look_pieces", number(g.failed_before)},
          {"working_pieces", number(g.working)},
          {"watched_later_pieces", number(g.truncated)},
          {"watched_age", number(g.total_time)},
          {"fit", maybe(g.fit, fit_json)},
          {"no_fit_reason", sentence(g.no_fit_reason)},
          {"one_sided_limit", maybe(g.limit, one_sided_json)},
          {"curve", curve_json(g.curve)},
          {"test_of_fit", maybe(g.test, test_json)}};
}

Json failure_free_json(const FailureFreeGroup& f) {
  return {{"group_index", f.group}, {"median_ratio_at_least", limit(f.median_ratio_at_least)}};
}

Json comparison_json(const GroupComparison& c) {
  return {{"statistic", number(c.statistic)},
          {"degrees", c.degrees},
          {"chance_share", number(c.chance)},
          {"common_shape_statistic", number(c.common_shape_statistic)},
          {"common_shape_degrees", c.common_shape_degrees},
          {"common_shape_chance_share", number(c.common_shape_chance)},
          {"median_ratio", maybe(c.median_ratio, estimate_json)},
          {"failure_free", maybe(c.failure_free, failure_free_json)}};
}

}  // namespace

std::string lifetime_json(const Lifetime& l) {
  const Json out = {{"schema", "mendworth.lifetime"},
                    {"version", 1},
                    {"program_version", version()},
                    {"source_name", l.source_name},
                    {"part", sentence(l.part)},
                    {"parts", l.parts},
                    {"unit", name_of(l.unit)},
                    {"confidence_share", number(l.confidence)},
                    {"groups", list(l.groups, group_json)},
                    {"all", maybe(l.all, group_json)},
                    {"comparison", maybe(l.comparison, comparison_json)},
                    {"no_comparison_reason", sentence(l.no_comparison_reason)}};
  return out.text();
}

}  // namespace mendworth
