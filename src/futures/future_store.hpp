#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "futures/future.hpp"

namespace mendworth {

/// The first futures of a device, each drawn once, and kept with all that was asked of it: a search for plans runs the
/// same ones many times. Prices are no part of them: they are the futures of any case that differs in prices alone. No
/// two threads may be in the same future at a time.
class FutureStore {
 public:
  /// What one future holds, where it stays.
  struct Kept {
    Kept(const DeviceModel& model, std::uint64_t seed, std::uint64_t number, const Physics& drawn)
        : physics(drawn), future(model, seed) {
      future.begin(number, physics);
    }
    Kept(const Kept&) = delete;
    Kept& operator=(const Kept&) = delete;
    Physics physics;
    Future future;
  };

  /// `model` must outlive this.
  FutureStore(const DeviceModel& model, std::uint64_t seed, int most)
      : model_(model), seed_(seed), kept_(static_cast<std::size_t>(most)) {}
  [[nodiscard]] const DeviceModel& model() const noexcept { return model_; }
  [[nodiscard]] std::uint64_t seed() const noexcept { return seed_; }
  /// The place of a future; null: there is none for so high a number.
  [[nodiscard]] std::unique_ptr<Kept>* at(std::uint64_t number) noexcept {
    return number < kept_.size() ? &kept_[number] : nullptr;
  }

 private:
  const DeviceModel& model_;
  std::uint64_t seed_;
  std::vector<std::unique_ptr<Kept>> kept_;
};

}  // namespace mendworth
