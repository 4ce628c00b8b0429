#pragma once

#include <vector>

#include "futures/run.hpp"

namespace mendworth {

/// What spare pieces of one part do for a plan, by how many there are beyond the need now: expected, over futures.
struct SpareUses {
  /// saved[k][s]: present worth of the orders that s spares of candidate k save, for this device (wait included) and
  /// for other devices and jobs.
  std::vector<std::vector<double>> saved;
  std::vector<double> used;  ///< [s]: pieces used
  /// [s]: pieces left when the need or their shelf life ends, discounted from then
  std::vector<double> left;
};

/// By the demands that a plan meets in each future when the visit now goes well and there are no spares: a spare serves
/// the next demand that it can serve whole, within its shelf life. One entry for each part; `most` spares.
[[nodiscard]] std::vector<SpareUses> spare_uses(const Scene& scene, const std::vector<UnitCost>& unit,
                                                const Option& option, int most, std::uint64_t seed,
                                                int futures);

}  // namespace mendworth
