#pragma once

#include <vector>

#include "answers/course.hpp"

namespace mendworth {

/// A saving and its standard error.
struct SavingValue {
  double saving = 0, error = 0;
};

/// The expected saving if something were otherwise: the best of the courses that are known, each one as it would go
/// then. What bears on prices alone puts other prices on what the courses amount to; what bears on the course of events
/// is run, over the futures of the case as it is, so that the noise of the level cancels. Threads may ask at the same
/// time.
class WhatIf {
 public:
  /// `contest` must have a best repair and a best replacement; it and the others must outlive this.
  WhatIf(const Contest& contest, const RateBook& rates, ModelCache& cache, const WeighSettings& settings);

  /// A change of the course of events is run through a few futures.
  [[nodiscard]] SavingValue saving(const Courses& courses, const Case& changed,
                                   const Hypothesis& hypothesis) const;
  /// The same where it only matters on which side of nought it is: fewer futures where these leave no doubt.
  [[nodiscard]] SavingValue side(const Courses& courses, const Case& changed,
                                 const Hypothesis& hypothesis) const;

  /// What a weighing of the changed case says if these are the courses it has: over as many futures as it takes, and
  /// nothing else.
  [[nodiscard]] SavingValue weighed(const Courses& courses, const Case& changed,
                                    const Hypothesis& hypothesis) const;

  /// The courses of the case as it is.
  [[nodiscard]] const Courses& courses() const noexcept { return courses_; }
  /// With those that a contest of the changed case would choose.
  [[nodiscard]] Courses with_best_of(const Courses& courses, const Case& changed,
                                     const Hypothesis& hypothesis) const;

  [[nodiscard]] const SavingValue& now() const noexcept { return now_; }
  /// How many these few are.
  [[nodiscard]] int few_futures() const noexcept;

 private:
  /// What a change of the case bears on.
  struct Reach {
    bool events = false, orders = false;
  };
  [[nodiscard]] Reach reach_of(const Case& changed, const Hypothesis& hypothesis) const;
  [[nodiscard]] std::optional<SavingValue> repriced(const Courses& courses, const Case& changed,
                                                    bool orders) const;
  class Changed;
  [[nodiscard]] SavingValue controlled(const std::vector<double>& savings) const;

  struct Number {
    Quantity value;
    bool bears_on_events, bears_on_orders;
  };
  const Contest& contest_;
  const RateBook& rates_;
  ModelCache& cache_;
  WeighSettings settings_;
  Courses courses_;
  std::vector<Number> numbers_;  ///< of the case, in order
  SavingValue now_;
  double at_base_ = 0;         ///< the saving of the courses that are best now, at base prices
  std::vector<double> as_is_;  ///< the same in each of the few futures
};

}  // namespace mendworth
