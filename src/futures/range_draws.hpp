#pragma once

#include <array>
#include <vector>

#include "model/device_model.hpp"
#include "numeric/random.hpp"

namespace mendworth {

/// The case with its ranges replaced by what they are in one future after the other. Ranges of age, use and rated life
/// are drawn as the evidence of the device's own parts lets them be (wear_law.hpp).
class RangeDraws {
 public:
  /// `prices` false: prices and times stay at their base.
  RangeDraws(const DeviceModel& model, std::uint64_t seed, bool prices);
  RangeDraws(const RangeDraws&) = delete;
  RangeDraws& operator=(const RangeDraws&) = delete;

  void draw(std::uint64_t number);
  [[nodiscard]] const Case& drawn() const noexcept { return drawn_; }
  /// Whether something that is no price is drawn.
  [[nodiscard]] bool of_events() const noexcept { return of_events_; }

  /// The value of a range (of DeviceModel::uncertain) in the future at hand; prices must be drawn.
  [[nodiscard]] double value(std::size_t range) const { return target(range).quantity->base(); }
  /// Draws one range anew, with other random numbers and as the other ranges let it be.
  void draw_anew(std::size_t range, const RandomBlocks& others);
  void put_back(std::size_t range, double value) { *target(range).quantity = Quantity::exactly(value); }

 private:
  struct Target {
    Quantity* quantity;
    const Sampler* sampler;
    std::size_t block;  ///< of blocks_
    std::size_t lane;
    void put(double place) const { *quantity = Quantity::exactly((*sampler)(place)); }
  };
  struct Block {
    std::uint64_t index, sub;
    std::array<double, 4> uniforms{};
  };
  [[nodiscard]] const Target& target(std::size_t range) const {
    const std::size_t wear = wear_targets_.size();
    return range < wear ? wear_targets_[range] : other_targets_[range - wear];
  }
  /// ln of how well the drawn age, use and lives fit the evidence, at most 0.
  [[nodiscard]] double log_fit() const;

  const DeviceModel& model_;
  RandomBlocks random_;
  Case drawn_;
  std::uint64_t number_ = 0;  ///< of the future at hand
  bool of_events_ = false;
  std::vector<Target> wear_targets_, other_targets_;
  std::vector<Block> blocks_;
  std::vector<double> wear_uniforms_, wear_places_;
};

}  // namespace mendworth
