#pragma once

#include <array>
#include <memory>
#include <span>
#include <vector>

#include "mendworth/case.hpp"
#include "numeric/linear_density.hpp"
#include "numeric/sampler.hpp"

namespace mendworth {

struct PartLife;
struct DeviceModel;

/// Age, use and rated lives as the evidence lets them be, when they are known as ranges only.
///
/// The evidence of a part speaks of its rated life over its wear so far, which is age times use: so that parts meet only
/// through these. Age is drawn by its posterior with all else integrated out, then the use a day and the hours a day
/// given it, then each rated life given its wear: one uniform each, by inversion, so that even points stay even.
/// Densities are linear between 65 points of equal prior probability; they are known at 33 values of what they hang on.
class WearLaw {
 public:
  /// `model.uncertain` begins with the entries that bear on wear; there must be at least one.
  explicit WearLaw(const DeviceModel& model);

  [[nodiscard]] int dimensions() const noexcept { return dimensions_; }
  /// Where within its prior (0,1) each entry lies, for a uniform each.
  void draw(std::span<const double> u, std::span<double> places) const;

 private:
  /// A number: its logarithm at points of equal prior probability; one value if it is certain.
  struct Axis {
    int dimension = -1;
    std::vector<double> logs;
    std::shared_ptr<const Sampler> sampler{};
    double added = 0;  ///< to the logarithm of the number itself
    [[nodiscard]] bool is_range() const noexcept { return dimension >= 0; }
    /// At the place that it has among those of all entries.
    [[nodiscard]] double log_at(std::span<const double> places) const;
  };
  struct OfPart {
    Axis rated;
    ConditionalDensity given_wear;
  };
  /// The parts whose life counts in one unit, all worn by one kind of use.
  struct OfUse {
    Axis use;
    ConditionalDensity given_age;
    std::vector<OfPart> parts;  ///< those whose rated life is a range
  };

  int dimensions_ = 0;
  Axis age_;
  ConditionalDensity age_density_;  ///< given nothing
  std::array<OfUse, 3> uses_;       ///< by cycles, hours and years
};

}  // namespace mendworth
