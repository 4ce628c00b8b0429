#include "answers/another_cause.hpp"

#include <algorithm>

#include "answers/option_results.hpp"
#include "answers/rules.hpp"
#include "answers/settings.hpp"
#include "answers/verdict.hpp"
#include "answers/what_if.hpp"

namespace mendworth {
namespace {

constexpr int anew_futures = 1024;

}  // namespace

std::optional<AnotherCause> another_cause_of(const Contest& contest,
                                             const std::vector<PartEvidence>& evidence, const RateBook& rates,
                                             const WeighSettings& settings) {
  if (std::none_of(evidence.begin(), evidence.end(),
                   [](const PartEvidence& part) { return part.wear_hardly_explains(); }))
    return std::nullopt;
  AnotherCause other;
  Case changed = contest.model.c;
  changed.fault.cause = other.cause;
  WeighSettings fewer = settings;
  fewer.futures = other.futures = at_most(anew_futures, settings);
  if (contest.unpriced) {
    for (Replacement& replacement : changed.replacements) replacement.price.reset();
  }
  ModelCache cache;
  const Contest anew(changed, rates, {}, fewer, effort_for(fewer), cache);

  std::vector<OptionResult> results;
  for (std::size_t i = 0; i < anew.options.size(); ++i) results.push_back(option_result(anew, i));
  if (anew.unpriced) other.repair_pays_from = unpriced_of(results).repair_pays_from;
  std::vector<double> costs;
  for (const OptionResult& result : results)
    costs.push_back(result.present_cost + result.price_weight * other.repair_pays_from.value_or(0.0));
  other.verdict = verdict_of(anew, results, costs);
  return other;
}

}  // namespace mendworth
