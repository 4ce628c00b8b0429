#pragma once

#include <vector>

#include "futures/worker.hpp"

namespace mendworth {

/// What futures say about the originals' lives alone, for cases whose age, use or rated life is a range.
struct LifeSample {
  std::vector<std::vector<double>>
      median_wear;  ///< per part: median life in the part's unit, one for each future
  std::vector<std::vector<double>> median_years;  ///< per part: the same in years at a use of share 1
  std::vector<std::vector<double>>
      within;  ///< per group: chance of a surviving original to fail within each of the years asked for
};

/// `years` by group; a group for which none are asked has no chances.
[[nodiscard]] LifeSample sample_lives(const Scene& scene, const std::vector<std::vector<double>>& years,
                                      std::uint64_t seed, int futures, int threads);

}  // namespace mendworth
