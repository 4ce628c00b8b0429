#pragma once

#include <vector>

#include "lifetime/fit.hpp"

namespace mendworth::lifetime {

struct GroupFit {
  const WeibullLikelihood* likelihood = nullptr;
  const Fitted* fitted = nullptr;
};

/// Greatest log-likelihood of laws with a scale each and one shape.
[[nodiscard]] double common_shape_likelihood(const std::vector<GroupFit>& groups);

/// `all` is fitted to the records of all groups; at least two groups.
[[nodiscard]] GroupComparison compare(const std::vector<GroupFit>& groups, const GroupFit& all,
                                      double confidence);

/// Nothing but pieces that work, or worked when last seen.
[[nodiscard]] bool is_failure_free(const Observations& observations);

/// A group without failures against one with a law; `all` is fitted to the records of both. The ratio is that
/// of `working` over `failing`; FailureFreeGroup::group is left to the caller, who knows the order.
[[nodiscard]] GroupComparison compare_failure_free(const Observations& working, const GroupFit& failing,
                                                   const GroupFit& all, double confidence);

}  // namespace mendworth::lifetime
