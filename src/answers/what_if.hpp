#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// The expected saving if something were otherwise. Two ways: prices are changed on the futures as they are; what
/// changes the course of things is run anew on the first of the same futures, and only the difference that the
/// change makes to each option is used. As many futures are run as the answer needs to be sharp, up to a limit.
/// Threads may ask at the same time.
class WhatIf {
 public:
  /// `contest` must have a best repair and a best replacement and outlive this.
  WhatIf(const Contest& contest, ModelCache& cache, const WeighSettings& settings);

  /// Best replacement minus best repair, each chosen anew, at the prices of `changed`.
  [[nodiscard]] double repriced_saving(const Case& changed) const;
  /// Mean cost of every option at the prices of `changed`.
  [[nodiscard]] std::vector<double> repriced_costs(const Case& changed) const;
  /// The same after running futures of `changed` under `hypothesis`.
  [[nodiscard]] double rerun_saving(const Case& changed, const Hypothesis& hypothesis) const;

  [[nodiscard]] double saving() const noexcept { return saving_; }
  /// The most futures that a rerun takes.
  [[nodiscard]] int rerun_futures() const noexcept { return rerun_futures_; }

 private:
  [[nodiscard]] Ensemble run(const DeviceModel& model, int first, int count, int threads) const;

  const Contest& contest_;
  ModelCache& cache_;
  const WeighSettings& settings_;
  std::vector<double> mean_costs_;
  // Options that may become the best, with their costs over all futures and in each future as things are.
  std::vector<Option> contenders_;
  std::vector<int> fallbacks_;
  std::vector<double> levels_;
  std::vector<std::vector<double>> as_is_;
  double saving_ = 0;
  double sharp_enough_ = 0;  ///< an error of the saving that nobody minds
  int rerun_futures_ = 0;
};

}  // namespace mendworth
