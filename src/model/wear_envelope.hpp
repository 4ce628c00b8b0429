#pragma once

#include <vector>

#include "mendworth/case.hpp"

namespace mendworth {

struct PartLife;
struct DeviceModel;

/// Where age, use and rated lives must lie for the evidence to be likely, when they are known as ranges only.
///
/// The ranges are cut into cells of equal prior probability. Each cell is bounded from above by how well the evidence
/// fits anywhere in it; drawing a cell in proportion to its bound, a point within, and keeping it with its fit over the
/// bound gives exact draws from the posterior (rejection sampling under a piecewise constant envelope: Luc Devroye,
/// "Non-Uniform Random Variate Generation", 1986, chapter II.3).
class WearEnvelope {
 public:
  /// `model.uncertain` begins with the entries that bear on wear; there must be at least one.
  explicit WearEnvelope(const DeviceModel& model);

  [[nodiscard]] int dimensions() const noexcept { return dimensions_; }
  /// The cell that a share u in (0,1) of all bounds lies below.
  [[nodiscard]] std::size_t cell(double u) const noexcept;
  /// Where within the prior (0,1) of a dimension a point of the cell lies; `within` in (0,1).
  [[nodiscard]] double place(std::size_t cell, int dimension, double within) const noexcept;
  /// ln of the bound of the fit within the cell.
  [[nodiscard]] double log_bound(std::size_t cell) const noexcept { return log_bounds_[cell]; }

 private:
  int dimensions_ = 0;
  std::size_t per_dimension_ = 1;
  std::vector<double> log_bounds_;
  std::vector<double> cumulative_;
};

}  // namespace mendworth
