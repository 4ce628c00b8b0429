#pragma once

#include <cstdint>
#include <vector>

#include "mendworth/case.hpp"
#include "model/device_model.hpp"
#include "numeric/demand.hpp"

/// The lives of a fleet's pieces, in many futures. What one device of the fleet tells about the life of its parts holds
/// for all: within a future every device has the same law, so failures of the devices depend on each other through it.
namespace mendworth {

/// A fleet's size, and how many of its devices have failed as the case's device has.
struct FleetSize {
  int devices = 1;
  int failed = 1;
};

/// The laws of one future.
struct FleetFuture {
  struct Part {
    double shape = 1;
    double log_scale = 0;  ///< of originals and earlier renewed ones, relative to the reference wear
  };
  struct Group {
    double wear = 0;          ///< of originals, relative to the reference wear
    double renewed_wear = 0;  ///< of earlier renewed ones
    double wear_per_year = 0;
  };
  std::vector<Part> parts;
  std::vector<Group> groups;

  /// Chance that a piece worn to `wear` fails within so many years.
  [[nodiscard]] double failure_chance(const PositionGroup& group, std::size_t index, double wear,
                                      double years) const;
};

/// One device that stands for all, without positions: those of the whole fleet are evidence for its lives.
[[nodiscard]] DeviceModel fleet_model(const Case& c, const FleetSize& size, ModelCache& cache);

class Fleet {
 public:
  /// Draws the laws from what the fleet's failures and survivors tell. `c` must outlive this.
  Fleet(const Case& c, const FleetSize& size, int futures, std::uint64_t seed);

  [[nodiscard]] const FleetSize& size() const noexcept { return size_; }
  [[nodiscard]] const std::vector<FleetFuture>& futures() const noexcept { return futures_; }

  /// Pieces of a part that fail within so many years, beside those that have failed already. Each place is counted to
  /// fail once: what fails again in its turn is not in here.
  [[nodiscard]] Demand failures(std::size_t part, double years) const;
  /// Expected number of such failures, of all parts, in each future.
  [[nodiscard]] std::vector<double> mean_failures(double years) const;
  /// Failures of all parts.
  [[nodiscard]] Demand failures_of_all(double years) const;
  /// Pieces of a part that have failed already.
  [[nodiscard]] int failed_now(std::size_t part) const;

 private:
  struct Places {
    int originals = 0, renewed = 0;  // of the whole fleet, working
  };
  [[nodiscard]] Places places(const PositionGroup& group) const;
  [[nodiscard]] Demand failures_in(const FleetFuture& future, const std::vector<std::size_t>& groups,
                                   double years) const;
  [[nodiscard]] Demand failures_of(const std::vector<std::size_t>& groups, double years) const;

  const Case* c_;
  FleetSize size_;
  std::vector<FleetFuture> futures_;
};

}  // namespace mendworth
