#pragma once

#include <optional>

#include "futures/range_draws.hpp"
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
class Worker {
 public:
  Worker(const Scene& scene, const WorkerSettings& settings);
  Worker(const Worker&) = delete;
  Worker& operator=(const Worker&) = delete;

  /// Turns to a future: one of the scene's store where it has it.
  Future& begin(std::uint64_t number);
  /// The one that was drawn last; none of a store.
  [[nodiscard]] Future& future() noexcept { return future_; }
  [[nodiscard]] Runner& runner() noexcept { return runner_; }
  [[nodiscard]] PriceList& prices() noexcept { return prices_; }

  /// The value of a range (of DeviceModel::uncertain) in the future at hand; prices must be drawn.
  [[nodiscard]] double drawn(std::size_t range) const { return ranges_->value(range); }
  /// Draws one range of the future at hand anew, with other random numbers and as the other ranges let it be; these and
  /// luck stay. A price changes prices() alone. The same future is at hand again once `put_back` is told what was drawn
  /// before, from the next draw on; prices() from take_prices() on.
  Future& draw_anew(std::size_t range, const RandomBlocks& others);
  void put_back(std::size_t range, double value) { ranges_->put_back(range, value); }
  void take_prices() { prices_.take(ranges_->drawn(), model_.purchase_uncertain); }

 private:
  void draw_ranges();
  void take_physics();

  const DeviceModel& model_;
  WorkerSettings settings_;
  FutureStore* store_;
  bool prices_drawn_;
  std::uint64_t number_ = 0;  ///< of the future at hand
  std::optional<RangeDraws>
      ranges_{};  ///< made when something is to be drawn, as it takes a copy of the case
  PhysicsMemory memory_;
  Physics physics_;
  bool physics_known_ = false;
  PriceList prices_;
  Future future_;
  Runner runner_;
};

}  // namespace mendworth
