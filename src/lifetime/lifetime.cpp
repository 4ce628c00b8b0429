#include "mendworth/lifetime.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <stdexcept>

#include <fmt/format.h>

#include "lifetime/comparison.hpp"
#include "lifetime/fit.hpp"
#include "lifetime/fit_test.hpp"
#include "lifetime/product_limit.hpp"
#include "lifetime/turnbull.hpp"
#include "numeric/distributions.hpp"

namespace mendworth {
namespace {

using lifetime::FitResult;
using lifetime::Fitted;
using lifetime::GroupFit;
using lifetime::Observations;
using lifetime::WeibullLikelihood;

void require_valid(const LifetimeSettings& settings) {
  if (!(settings.confidence >= 0.5 && settings.confidence <= 0.999)) {
    throw std::invalid_argument("a confidence must be from 0.5 to 0.999");
  }
  for (const double time : settings.times) {
    if (!(time > 0 && std::isfinite(time)))
      throw std::invalid_argument("an age that is asked for must be above 0");
  }
  if (settings.assumed_shape && !(*settings.assumed_shape > 0 && std::isfinite(*settings.assumed_shape))) {
    throw std::invalid_argument("an assumed shape must be above 0");
  }
}

double time_watched(const LifeRecord& record) {
  const double from = std::max(record.worked_at, record.first_seen);
  const double until = record.working() ? from : from + (record.failed_by - from) / 2;
  return until - record.first_seen;
}

void count(const std::vector<LifeRecord>& records, GroupLifetime& group) {
  for (const LifeRecord& record : records) {
    double& kind = record.exact()     ? group.failed_exact
                   : record.working() ? group.working
                   : record.left()    ? group.failed_before
                                      : group.failed_between;
    kind += record.weight;
    if (record.first_seen > 0) group.truncated += record.weight;
    group.total_time += record.weight * time_watched(record);
  }
}

// One group with all that a comparison needs again. The likelihood refers to the observations, so an Analysis
// stays where it is made.
class Analysis {
 public:
  Analysis(const std::string& name, const std::vector<LifeRecord>& records, const LifetimeSettings& settings)
      : observations_(lifetime::observe(records)), likelihood_(observations_) {
    answer.name = name;
    count(records, answer);
    FitResult fit = lifetime::fit_weibull(likelihood_, settings);
    fitted_ = std::move(fit.fitted);
    answer.no_fit_reason = std::move(fit.reason);
    if (fitted_) {
      answer.fit = fitted_->shown;
      answer.test = lifetime::test_of_fit(observations_, fitted_->maximum);
    } else if (observations_.pieces_at_zero == 0) {
      answer.limit = lifetime::one_sided_limit(records, settings);
    }
    answer.curve = lifetime::any_interval(records)
                       ? lifetime::turnbull(records)
                       : lifetime::product_limit(records, normal_quantile(0.5 + settings.confidence / 2));
  }
  Analysis(const Analysis&) = delete;
  Analysis& operator=(const Analysis&) = delete;
  Analysis(Analysis&&) = delete;
  Analysis& operator=(Analysis&&) = delete;
  ~Analysis() = default;

  [[nodiscard]] bool has_fit() const noexcept { return fitted_.has_value(); }
  [[nodiscard]] GroupFit fit() const { return {&likelihood_, &*fitted_}; }
  [[nodiscard]] const Observations& observations() const noexcept { return observations_; }

  GroupLifetime answer;

 private:
  Observations observations_;
  WeibullLikelihood likelihood_;
  std::optional<Fitted> fitted_;
};

using Analyses = std::vector<std::unique_ptr<Analysis>>;

// Of two groups, the one that has no failure while the other has a law.
std::optional<std::size_t> failure_free_group(const Analyses& groups) {
  if (groups.size() != 2) return std::nullopt;
  for (const std::size_t i : {std::size_t{0}, std::size_t{1}}) {
    if (lifetime::is_failure_free(groups[i]->observations()) && groups[1 - i]->has_fit()) return i;
  }
  return std::nullopt;
}

void compare_groups(const Analyses& groups, const Analysis& all, double confidence, Lifetime& out) {
  const std::optional<std::size_t> failure_free = failure_free_group(groups);
  if (!failure_free) {
    for (const auto& group : groups) {
      if (group->has_fit()) continue;
      out.no_comparison_reason =
          fmt::format("The comparison needs a law for each group, and '{}' has none.", group->answer.name);
      return;
    }
  }
  if (!all.has_fit()) {
    out.no_comparison_reason = "The groups together have no fitted law.";
  } else if (failure_free) {
    GroupComparison comparison = lifetime::compare_failure_free(
        groups[*failure_free]->observations(), groups[1 - *failure_free]->fit(), all.fit(), confidence);
    comparison.failure_free->group = *failure_free;
    out.comparison = comparison;
  } else {
    std::vector<GroupFit> fits;
    for (const auto& group : groups) fits.push_back(group->fit());
    out.comparison = lifetime::compare(fits, all.fit(), confidence);
  }
}

}  // namespace

Lifetime lifetime_of(const History& history, const LifetimeSettings& settings) {
  require_valid(settings);
  if (history.groups.empty()) throw std::invalid_argument("a history must have records");
  for (const LifeGroup& group : history.groups) {
    if (group.records.empty()) throw std::invalid_argument("a group must have records");
    for (const LifeRecord& record : group.records) lifetime::require_valid(record);
  }

  Lifetime out;
  out.source_name = history.source_name;
  out.part = history.part;
  out.parts = history.parts;
  out.unit = history.unit;
  out.confidence = settings.confidence;
  Analyses groups;
  for (const LifeGroup& group : history.groups) {
    groups.push_back(std::make_unique<Analysis>(group.name, group.records, settings));
  }
  if (groups.size() > 1) {
    std::vector<LifeRecord> records;
    for (const LifeGroup& group : history.groups) {
      records.insert(records.end(), group.records.begin(), group.records.end());
    }
    Analysis all("", records, settings);
    compare_groups(groups, all, settings.confidence, out);
    out.all = std::move(all.answer);
  }
  for (const auto& group : groups) out.groups.push_back(std::move(group->answer));
  return out;
}

}  // namespace mendworth
