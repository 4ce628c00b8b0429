#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// A saving and its standard error.
struct SavingValue {
  double saving = 0, error = 0;
};

/// The saving of a contest: best replacement minus best repair over the same futures. Both must be there.
[[nodiscard]] SavingValue saving_of(const Contest& contest);

/// The expected saving if something were otherwise: plans, purchases and rules are all chosen anew, as a weighing of the
/// changed case would. Threads may ask at the same time.
class WhatIf {
 public:
  /// `contest` must have a best repair and a best replacement; it and the others must outlive this.
  WhatIf(const Contest& contest, const RateBook& rates, ModelCache& cache, const WeighSettings& settings);

  /// On few of the futures: the saving as it is, and what the change makes of it there, future by future.
  [[nodiscard]] SavingValue roughly(const Case& changed, const Hypothesis& hypothesis) const;
  /// As a weighing of the changed case says.
  [[nodiscard]] SavingValue exactly(const Case& changed, const Hypothesis& hypothesis) const;

  [[nodiscard]] const SavingValue& now() const noexcept { return now_; }
  /// Futures behind a rough answer.
  [[nodiscard]] int rough_futures() const noexcept { return rough_.futures; }

 private:
  [[nodiscard]] std::vector<double> rough_savings(const Case& c, const Hypothesis& hypothesis) const;

  const RateBook& rates_;
  ModelCache& cache_;
  WeighSettings settings_;
  Effort rough_;
  SavingValue now_;
  std::vector<double> as_is_;  ///< saving in each of the few futures
};

/// What a weighing puts into its contest.
[[nodiscard]] Effort full_effort(const WeighSettings& settings);

}  // namespace mendworth
