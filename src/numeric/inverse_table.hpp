#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace mendworth {

/// Draws by inversion from a density that is linear within each cell of a grid; the cells need not be alike,
/// and each keeps its own mass and its own mean, so the mean of the draws is that of the tabulated law.
/// Monotone and continuous in u where no cell within the law is empty. A draw costs one guided search and one
/// square root.
class InverseTable {
 public:
  struct Cell {
    double mass = 0;    ///< >= 0, in any common unit
    double centre = 0;  ///< mean place within the cell, 0 at its left end, 1 at its right end
  };

  InverseTable() = default;

  /// `edges` rise; one cell between each two. The masses need not sum to 1 but must not all be zero.
  InverseTable(const std::vector<double>& edges, const std::vector<Cell>& cells) : knots_(edges.size()) {
    double total = 0;
    for (const Cell& cell : cells) total += cell.mass;
    double below = 0;
    for (std::size_t i = 0; i < edges.size(); ++i) {
      knots_[i].x = edges[i];
      knots_[i].below = i + 1 == edges.size() ? 1 : std::min(below / total, 1.0);
      if (i == cells.size()) break;
      below += cells[i].mass;
      // A density 1 - tilt at the left end and 1 + tilt at the right has its mean at (3 + tilt)/6. Just under
      // 1, so that no draw divides zero by zero.
      knots_[i].tilt = std::clamp(6 * cells[i].centre - 3, -steepest, steepest);
    }
    std::size_t cell = 0;
    for (std::size_t k = 0; k < guide_.size(); ++k) {
      while (knots_[cell + 1].below <= static_cast<double>(k) / static_cast<double>(guide_.size())) ++cell;
      guide_[k] = static_cast<std::uint16_t>(cell);
    }
  }

  /// The value below which a share u lies, 0 < u < 1.
  [[nodiscard]] double quantile(double u) const noexcept {
    const Knot* knot =
        knots_.data() + guide_[static_cast<std::size_t>(u * static_cast<double>(guide_.size()))];
    while (u >= knot[1].below) ++knot;
    const double s = (u - knot->below) / (knot[1].below - knot->below);
    const double left = 1 - knot->tilt;
    const double t = 2 * s / (left + std::sqrt(left * left + 4 * knot->tilt * s));
    return knot->x + (knot[1].x - knot->x) * t;
  }

  [[nodiscard]] double first() const noexcept { return knots_.front().x; }
  [[nodiscard]] double last() const noexcept { return knots_.back().x; }
  /// For each edge, the mean of the values below it times their share.
  [[nodiscard]] std::vector<double> moments() const {
    std::vector<double> sums(knots_.size());
    for (std::size_t i = 0; i + 1 < knots_.size(); ++i) sums[i + 1] = sums[i] + moment_within(i, 1);
    return sums;
  }
  /// The same for any x, from what moments() gives.
  [[nodiscard]] double moment_below(double x, const std::vector<double>& moments) const noexcept {
    if (!(x > knots_.front().x)) return 0;
    if (!(x < knots_.back().x)) return moments.back();
    const std::size_t cell = cell_of(x);
    return moments[cell] + moment_within(cell, (x - knots_[cell].x) / (knots_[cell + 1].x - knots_[cell].x));
  }

  /// The share below x.
  [[nodiscard]] double share_below(double x) const noexcept {
    if (!(x > knots_.front().x)) return 0;
    if (!(x < knots_.back().x)) return 1;
    const auto left = knots_.begin() + static_cast<std::ptrdiff_t>(cell_of(x));
    const auto right = left + 1;
    const double t = (x - left->x) / (right->x - left->x);
    return left->below + (right->below - left->below) * t * (1 - left->tilt * (1 - t));
  }

 private:
  static constexpr double steepest = 1 - 1e-9;

  /// For x between the ends.
  [[nodiscard]] std::size_t cell_of(double x) const noexcept {
    const auto right = std::upper_bound(knots_.begin(), knots_.end(), x,
                                        [](double value, const Knot& knot) { return value < knot.x; });
    return static_cast<std::size_t>(right - knots_.begin()) - 1;
  }
  /// Integral of the value over the first part t of a cell: of its density 1 - tilt + 2 tilt t, and of t times it.
  [[nodiscard]] double moment_within(std::size_t cell, double t) const noexcept {
    const Knot& knot = knots_[cell];
    const double share = knots_[cell + 1].below - knot.below;
    const double left = 1 - knot.tilt;
    return share * (knot.x * t * (left + knot.tilt * t) +
                    (knots_[cell + 1].x - knot.x) * t * t * (left / 2 + knot.tilt * t * 2 / 3));
  }

  struct Knot {
    double x = 0;
    double below = 0;  ///< share below x
    double tilt = 0;   ///< of the cell to the right, -1..1
  };
  std::vector<Knot> knots_;
  std::array<std::uint16_t, 64> guide_{};  ///< first cell that a 64th of the shares may lie in
};

}  // namespace mendworth
