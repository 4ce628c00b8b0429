#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// The expected saving if something were otherwise. Two ways: prices are changed on the futures as they are; what
/// changes the course of things is run anew on the first of the same futures, and only the difference is used.
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
  [[nodiscard]] int rerun_futures() const noexcept { return rerun_futures_; }

 private:
  [[nodiscard]] double rerun(const Case& c, const Hypothesis& hypothesis) const;

  const Contest& contest_;
  ModelCache& cache_;
  const WeighSettings& settings_;
  std::vector<double> mean_costs_;
  std::vector<Option> contenders_;  // options that may become the best
  std::vector<int> fallbacks_;
  double saving_ = 0;
  int rerun_futures_ = 0;
  double rerun_base_ = 0;
};

}  // namespace mendworth
