#pragma once

#include <optional>
#include <vector>

#include "futures/run.hpp"
#include "model/pricing.hpp"

namespace mendworth {

/// What a worker draws of a case's ranges.
struct WorkerSettings {
  std::uint64_t seed = 1;
  bool draw_prices = true;  ///< false: prices and times stay at their base
  /// Of all but the ranges; absent: the same seed.
  std::optional<std::uint64_t> luck_seed{};
};

/// One thread's working memory: the case with drawn values, and what follows from them.
///
/// Ranges of age, use and rated life are drawn as the evidence of the device's own parts lets them be
/// (wear_law.hpp).
class Worker {
 public:
  Worker(const Scene& scene, const WorkerSettings& settings);
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// Turns to a future.
  Future& begin(std::uint64_t number);
  [[nodiscard]] Future& future() noexcept { return future_; }
  [[nodiscard]] Runner& runner() noexcept { return runner_; }
  [[nodiscard]] PriceList& prices() noexcept { return prices_; }

  /// The value of a range (of DeviceModel::uncertain) in the future at hand; prices must be drawn.
  [[nodiscard]] double drawn(std::size_t range) const { return target(range).quantity->base(); }
  /// Draws one range of the future at hand anew, with other random numbers and as the other ranges let it be; these and
  /// luck stay. A price changes prices() alone. The same future is at hand again once `put_back` is told what was drawn
  /// before, from the next draw on; prices() from take_prices() on.
  Future& draw_anew(std::size_t range, const RandomBlocks& others);
  void put_back(std::size_t range, double value) { *target(range).quantity = Quantity::exactly(value); }
  void take_prices() { prices_.take(drawn_, model_.purchase_uncertain); }

 private:
  struct Target {
    Quantity* quantity;
    const Sampler* sampler;
    std::size_t block;  ///< of blocks_
    std::size_t lane;
  };
  [[nodiscard]] const Target& target(std::size_t range) const {
    const std::size_t wear = wear_targets_.size();
    return range < wear ? wear_targets_[range] : other_targets_[range - wear];
  }
  void draw_ranges(std::uint64_t number);
  /// ln of how well the drawn age, use and lives fit the evidence, at most 0.
  [[nodiscard]] double log_fit() const;

  const DeviceModel& model_;
  std::uint64_t number_ = 0;  ///< of the future at hand
  Case drawn_;
  std::vector<Target> wear_targets_, other_targets_;
  bool physics_drawn_ = false, prices_drawn_ = false;
  RandomBlocks random_;
  struct Block {
    std::uint64_t index, sub;
    std::array<double, 4> uniforms{};
  };
  std::vector<Block> blocks_;  // of a future's targets
  std::vector<double> wear_uniforms_, wear_places_;
  WearLaw::Scratch wear_scratch_;
  Physics physics_;
  PriceList prices_;
  Future future_;
  Runner runner_;
};

}  // namespace mendworth
