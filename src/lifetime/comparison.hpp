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

}  // namespace mendworth::lifetime
