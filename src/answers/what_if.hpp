#pragma once

#include <memory>
#include <mutex>
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

  /// Whether a change leaves the course of events as it is: any number of values is worked out in no time.
  [[nodiscard]] bool is_of_prices(const Case& changed, const Hypothesis& hypothesis) const {
    return !reach_of(changed, hypothesis).events;
  }

  /// Whether it changes what suppliers ask: other orders than those known may be best.
  [[nodiscard]] bool is_of_orders(const Case& changed, const Hypothesis& hypothesis) const {
    return reach_of(changed, hypothesis).orders;
  }

  [[nodiscard]] const SavingValue& now() const noexcept { return now_; }
  /// How many these few are.
  [[nodiscard]] int few_futures() const noexcept;

 private:
  /// What a change of the case bears on.
  struct Reach {
    bool events = false, orders = false;
  };
  [[nodiscard]] Reach reach_of(const Case& changed, const Hypothesis& hypothesis) const;
  class Repriced;
  /// Absent where the change bears on what happens: on events, on which replacement follows, on orders that can be had.
  [[nodiscard]] std::optional<Repriced> repriced(const Courses& courses, const Case& changed,
                                                 const Hypothesis& hypothesis) const;
  class Changed;
  /// The saving of the courses that are best now in each of the few futures, at base prices; run when first asked for.
  [[nodiscard]] const std::vector<double>& as_is() const;
  [[nodiscard]] SavingValue controlled(const std::vector<double>& savings) const;
  [[nodiscard]] int first_futures() const noexcept { return contest_.first_futures(); }
  [[nodiscard]] int futures_wanted_for(const MeanError& found, double stake) const;
  /// Futures of the case as it is, for one contest at a time.
  [[nodiscard]] std::shared_ptr<FutureStore> borrow_store() const;
  void give_back(std::shared_ptr<FutureStore> store) const;

  struct Number {
    Quantity value;
    bool bears_on_events, bears_on_orders;
  };
  const Contest& contest_;
  const RateBook& rates_;
  ModelCache& cache_;
  WeighSettings settings_;
  Courses courses_;
  std::vector<Number> numbers_;               ///< of the case, in order
  std::size_t repair_ = 0, replacement_ = 0;  ///< the best of the contest's options
  SavingValue now_;
  double at_base_ = 0;  ///< the saving of the courses that are best now, at base prices
  mutable std::once_flag as_is_run_;
  mutable std::vector<double> as_is_;
  mutable std::mutex storing_;
  mutable std::vector<std::shared_ptr<FutureStore>> stores_;
};

}  // namespace mendworth
