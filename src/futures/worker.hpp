#pragma once

#include <vector>

#include "futures/run.hpp"
#include "model/pricing.hpp"

namespace mendworth {

/// What a worker draws of a case's ranges.
struct WorkerSettings {
  std::uint64_t seed = 1;
  bool draw_prices = true;  ///< false: prices and times stay at their base
};

/// One thread's working memory: the case with drawn values, and what follows from them.
///
/// Ranges of age, use and rated life are drawn as the evidence of the device's own parts lets them be
/// (wear_envelope.hpp).
class Worker {
 public:
  Worker(const Scene& scene, const WorkerSettings& settings);
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// Turns to a future.
  Future& begin(std::uint64_t number);
  [[nodiscard]] Runner& runner() noexcept { return runner_; }
  [[nodiscard]] PriceList& prices() noexcept { return prices_; }

 private:
  struct Target {
    Quantity* quantity;
    const Sampler* sampler;
    std::size_t block;  ///< of blocks_
    std::size_t lane;
  };
  void draw_wear(std::uint64_t number);
  void draw_others(std::uint64_t number);
  /// ln of how well the drawn age, use and lives fit the evidence, at most 0.
  [[nodiscard]] double log_fit() const;

  const DeviceModel& model_;
  Case drawn_;
  std::vector<Target> wear_targets_, other_targets_;
  bool physics_drawn_ = false, prices_drawn_ = false;
  RandomBlocks random_;
  struct Block {
    std::uint64_t index, sub;
    std::array<double, 4> uniforms{};
  };
  std::vector<Block> blocks_;  // of a future's other targets
  Physics physics_;
  PriceList prices_;
  Future future_;
  Runner runner_;
};

}  // namespace mendworth
