#include <string>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"
#include "render/lifetime_words.hpp"

// Ages are in the unit named at the top; keys that end in _pieces count pieces, in _share are 0..1.
namespace mendworth {

namespace {

std::optional<double> limit(double value) { return is_limit(value) ? std::optional(value) : std::nullopt; }

}  // namespace

template <>
Shape<LifeEstimate>::Shape() : MemberTable("estimate") {
  has({
      {"value", &R::value},
      {"standard_error", &R::error, "by the delta method"},
      {"normal_low", [](const R& e) { return limit(e.normal_low); },
       "from the curvature at the maximum, symmetric in the logarithm (of a share: in ln(-ln share))"},
      {"normal_high", [](const R& e) { return limit(e.normal_high); }, "see normal_low"},
      {"profile_low", [](const R& e) { return limit(e.profile_low); },
       "values below are rejected by the likelihood ratio; null: none is"},
      {"profile_high", [](const R& e) { return limit(e.profile_high); },
       "values above are rejected by the likelihood ratio; null: none is"},
  });
}

template <>
Shape<TimedShare>::Shape() : MemberTable("working_at") {
  has({
      {"age", &R::time},
      {"working_share", &R::working},
  });
}

template <>
Shape<WeibullFit>::Shape() : MemberTable("fit") {
  has({
      {"shape", &R::shape},
      {"scale_age", &R::scale},
      {"median_age", &R::median},
      {"b10_age", &R::b10},
      {"working_at", &R::at_times, "the ages that were asked for"},
      {"log_likelihood", &R::log_likelihood, "at the maximum"},
      {"variance_log_scale", &R::var_log_scale, "of ln scale, from the inverse of the observed information",
       at_least(0)},
      {"covariance_log_scale_log_shape", &R::cov_log_scale_log_shape, "see variance_log_scale"},
      {"variance_log_shape", &R::var_log_shape, "see variance_log_scale", at_least(0)},
  });
}

template <>
Shape<OneSidedLimit>::Shape() : MemberTable("one_sided_limit") {
  has({
      {"assumed_shape", &R::assumed_shape, "Weibull shape, stated and not estimated"},
      {"confidence_share", &R::confidence, "one-sided"},
      {"scale_at_least_age", &R::scale_at_least},
      {"median_at_least_age", &R::median_at_least},
      {"b10_at_least_age", &R::b10_at_least},
  });
}

template <>
Shape<SurvivalStep>::Shape() : MemberTable("step") {
  has({
      {"age", &R::time, "the share is down to working_share here"},
      {"at_risk_pieces", &R::at_risk, "watched just before; 0 where intervals leave it unknown"},
      {"failed_pieces", &R::failed},
      {"working_share", &R::working},
      {"standard_error", &R::error, "Greenwood's; 0 for Turnbull's estimate, which has none"},
      {"low_share", &R::low, "limit, symmetric in ln(-ln share)"},
      {"high_share", &R::high, "see low_share"},
  });
}

template <>
Shape<SurvivalCurve>::Shape() : MemberTable("curve") {
  has({
      {"method", [](const R& c) { return c.by_intervals ? "turnbull" : "kaplan_meier"; },
       "product limit, or Turnbull's estimate where failures are known as intervals",
       one_of({"kaplan_meier", "turnbull"})},
      {"steps", &R::steps, "in the order of age"},
  });
}

template <>
Shape<FitTest>::Shape() : MemberTable("test_of_fit") {
  has({
      {"method", &R::method},
      {"statistic", &R::statistic},
      {"chance_share", &R::chance, "of a statistic at least as large if the law holds"},
  });
}

template <>
Shape<GroupLifetime>::Shape() : MemberTable("group") {
  has({
      {"name", &R::name, "value of the grouping column; empty without one"},
      {"failure_seen_pieces", &R::failed_exact, "pieces whose age at failure is known"},
      {"failed_between_looks_pieces", &R::failed_between, "pieces known to have failed between two ages"},
      {"failed_before_first_look_pieces", &R::failed_before, "pieces that had failed when first looked at"},
      {"working_pieces", &R::working, "pieces that still worked"},
      {"watched_later_pieces", &R::truncated,
       "pieces, of the above, that came under watch after age 0 (left truncation)"},
      {"watched_age", &R::total_time, "pieces times the age over which they were watched", at_least(0)},
      {"fit", &R::fit,
       "the Weibull law of maximum likelihood, R(x) = exp(-(x / scale)^shape); null if there is none"},
      {"no_fit_reason", [](const R& g) { return if_said(g.no_fit_reason); },
       "a sentence; null if there is a fit"},
      {"one_sided_limit", &R::limit, "what can be said without a fit"},
      {"curve", &R::curve, "the share still working, without any law"},
      {"test_of_fit", &R::test, "does a Weibull law describe the record?"},
  });
}

template <>
Shape<FailureFreeGroup>::Shape() : MemberTable("failure_free") {
  has({
      {"group_index", &R::group, "which of groups, from 0", between(0, 1)},
      {"median_ratio_at_least", [](const R& f) { return limit(f.median_ratio_at_least); },
       "its median life over that of the other group, one shape for both: lower limit by profile "
       "likelihood at confidence_share, one-sided; there is no estimate and no upper limit; null: no "
       "lower limit either"},
  });
}

template <>
Shape<GroupComparison>::Shape() : MemberTable("comparison") {
  has({
      {"statistic", &R::statistic, "likelihood ratio: a law for each group against one for all", at_least(0)},
      {"degrees", &R::degrees, "of freedom", at_least(1)},
      {"chance_share", &R::chance,
       "of a statistic at least as large if the groups are alike; with a failure_free group, that this "
       "group would be spared so if both were alike (one-sided, exact for a known shape)"},
      {"common_shape_statistic", &R::common_shape_statistic, "the same with one shape for all groups",
       at_least(0)},
      {"common_shape_degrees", &R::common_shape_degrees, "", at_least(1)},
      {"common_shape_chance_share", &R::common_shape_chance,
       "with a failure_free group too small, since the estimate lies at infinity: use chance_share"},
      {"median_ratio", &R::median_ratio,
       "of two groups with failures: the median life of the second over that of the first; null "
       "otherwise"},
      {"failure_free", &R::failure_free, "of two groups, the one that has no failure; null otherwise"},
  });
}

template <>
Shape<Lifetime>::Shape() {
  has({
      {"source_name", &R::source_name, "the history file"},
      {"part", [](const R& l) { return if_said(l.part); }, "the part that was asked for; null: all rows"},
      {"parts", &R::parts, "the different parts among the rows; empty if the file names none"},
      {"unit", &R::unit, "of every age"},
      {"confidence_share", &R::confidence, "of the two-sided limits", between(0.5, 0.999)},
      {"groups", &R::groups, "one without a grouping column"},
      {"all", &R::all, "all groups as one; null for a single group"},
      {"comparison", &R::comparison,
       "are the groups alike? null for a single group, or if they cannot be compared"},
      {"no_comparison_reason", [](const R& l) { return if_said(l.no_comparison_reason); }, "a sentence"},
  });
}

constexpr AnswerOf<Lifetime> lifetime_form{
    {.schema = "mendworth.lifetime",
     .version = 1,
     .meaning = "Answers of 'mendworth lifetime --format json'. Ages (_age, age) are in "
                "the unit named at the top, counted from new. Numbers are not rounded and "
                "always finite; null is what does not exist; _share is 0..1."}};

std::string lifetime_json(const Lifetime& lifetime) { return lifetime_form.json(lifetime).text(); }

const std::string& lifetime_schema() { return lifetime_form.json_schema(); }

}  // namespace mendworth
