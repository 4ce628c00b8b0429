#pragma once

#include <optional>
#include <vector>

#include "mendworth/case.hpp"

namespace mendworth {

/// How long a replacement lasts, over all that is uncertain about it: equally likely Weibull laws.
class DeviceLife {
 public:
  explicit DeviceLife(const Replacement& r);
  [[nodiscard]] double mean() const noexcept { return mean_; }
  /// Chance that it still works after so many years.
  [[nodiscard]] double survival(double years) const;
  /// E[exp(-growth L)], L its life.
  [[nodiscard]] double worth_at_end(double growth) const;

 private:
  /// Weibull laws of one shape.
  struct OfShape {
    double shape = 1;
    std::vector<double> scales{}, inverse_powers{};  ///< scale^-shape
  };
  [[nodiscard]] double worth_by_midpoints(double growth, int points) const;

  std::vector<OfShape> laws_;
  double mean_ = 0;
};

/// What hangs on the life of a replacement alone, whatever it costs: how devices like it follow each other for as long as
/// one is needed.
struct ChainCourse {
  static constexpr int steps = 800;  ///< of the longest need

  /// Devices are discounted at the yearly rate of interest `rate`; no `need`: it goes on.
  ChainCourse(const Replacement& r, const std::optional<Quantity>& need, double rate);

  DeviceLife life;
  double worth_at_end = 0;         ///< E[(1 + rate)^-L], where the need goes on
  double step = 0;                 ///< of the longest need, years
  std::vector<double> survival{};  ///< after 0, step, 2 step ..., where it ends
  std::vector<double> devices{};   ///< discounted, of its chain over so much need
};

/// Devices of an endless chain bought up to each of the times 0, step, 2 step .., expected, each discounted with
/// exp(-growth t).
[[nodiscard]] std::vector<double> purchases_by(const DeviceLife& life, double step, int steps, double growth);

}  // namespace mendworth
