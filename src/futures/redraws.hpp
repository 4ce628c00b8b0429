#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "futures/run.hpp"

/// What futures draw, and what would come of them if a part of it were drawn anew (pick and freeze).
namespace mendworth {

/// By future, of futures 0, 1 ..
struct DrawnValues {
  std::vector<std::vector<double>> ranges;  ///< of DeviceModel::uncertain, in its order
  /// Per part: which of its first candidates fit, a number for each set of them; empty where luck has no say in it.
  std::vector<std::vector<double>> fits;
  std::vector<std::vector<double>> costs;  ///< of options that were run through them
};
[[nodiscard]] DrawnValues drawn_values(const Scene& scene, const std::vector<Option>& options,
                                       std::uint64_t seed, int futures);
/// Whether some candidate of a part may not fit.
[[nodiscard]] bool may_misfit(const DeviceModel& model, std::size_t part);

/// How much more the first of two options costs than the second, by future.
struct Redraws {
  std::vector<double> as_drawn;
  std::vector<std::vector<double>>
      range_anew;  ///< one of DeviceModel::uncertain drawn anew, all else as it was
  std::vector<std::vector<double>>
      fit_anew;                     ///< per part: whether its candidates fit drawn anew; empty: none
  std::vector<double> luck_anew;    ///< all but the ranges drawn anew
  std::vector<double> ranges_anew;  ///< all ranges drawn anew, luck as it was
};
[[nodiscard]] Redraws redraws(const Scene& scene, const std::array<Option, 2>& options, std::uint64_t seed,
                              int futures);

}  // namespace mendworth
