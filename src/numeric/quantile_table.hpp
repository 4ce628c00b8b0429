#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include "numeric/inverse_table.hpp"

namespace mendworth {

/// Another table of a law, for draws that must be fast: its cells hold equal shares, so that a draw finds its cell
/// without a search. Towards both ends, where a quantile may bend like a root, each cell holds half of the share of
/// the one before. Density linear in a cell; each keeps its own mean.
class QuantileTable {
 public:
  QuantileTable() = default;
  explicit QuantileTable(const InverseTable& law) {
    for (std::size_t i = 0; i < knots_.size(); ++i) {
      const double u = share_below(i);
      knots_[i].x = u <= 0 ? law.first() : u >= 1 ? law.last() : law.quantile(u);
    }
    for (std::size_t i = 0; i < cells; ++i) {
      const double share = law.share_below(knots_[i + 1].x) - law.share_below(knots_[i].x);
      const double width = knots_[i + 1].x - knots_[i].x;
      if (!(share > 0 && width > 0)) continue;
      const double mean = (law.moment_below(knots_[i + 1].x) - law.moment_below(knots_[i].x)) / share;
      // See InverseTable: a density of 1 - tilt to 1 + tilt has its mean at (3 + tilt) / 6 of the cell.
      knots_[i].tilt = std::clamp(6 * (mean - knots_[i].x) / width - 3, -steepest, steepest);
    }
  }

  /// The value below which a share u lies, 0 < u < 1.
  [[nodiscard]] double quantile(double u) const noexcept {
    const double place = u * even;
    auto cell = static_cast<std::size_t>(place);
    double s = place - static_cast<double>(cell);
    if (cell == 0) {
      const Tail tail = tail_of(u);
      cell = tail_cells - 1 - tail.rank;
      s = tail.part;
    } else if (cell + 1 == even) {
      const Tail tail = tail_of(1 - u);
      cell = cells - tail_cells + tail.rank;
      s = 1 - tail.part;
    } else {
      cell += tail_cells - 1;
    }
    const Knot& knot = knots_[cell];
    const double left = 1 - knot.tilt;
    const double t = 2 * s / (left + std::sqrt(left * left + 4 * knot.tilt * s));
    return knot.x + (knots_[cell + 1].x - knot.x) * t;
  }

 private:
  static constexpr std::size_t even_bits = 6, even = 1U << even_bits;  // cells if there were no tails
  static constexpr std::size_t tail_cells = 46;                        // the outermost reaches to the end
  static constexpr std::size_t cells = even - 2 + 2 * tail_cells;
  static constexpr double steepest = 1 - 1e-9;

  static constexpr double two_to(int power) noexcept {
    return std::bit_cast<double>(static_cast<std::uint64_t>(1023 + power) << 52U);
  }

  /// Where a share v <= 1/even off an end lies: cell by rank from the middle outwards, and part of it from outside.
  struct Tail {
    std::size_t rank;
    double part;
  };
  [[nodiscard]] static Tail tail_of(double v) noexcept {
    constexpr int first = static_cast<int>(even_bits) + 1, last = first + static_cast<int>(tail_cells) - 2;
    // v lies in 2^-power .. 2^(1 - power).
    const int power = 1023 - static_cast<int>(std::bit_cast<std::uint64_t>(v) >> 52U);
    if (power > last) return {tail_cells - 1, v * two_to(last)};
    const int within = std::max(power, first);
    return {static_cast<std::size_t>(within - first), v * two_to(within) - 1};
  }

  [[nodiscard]] static double share_below(std::size_t knot) noexcept {
    const auto in_tail = [](std::size_t from_end) {
      return from_end == 0 ? 0.0 : two_to(-static_cast<int>(even_bits + tail_cells - from_end));
    };
    if (knot <= tail_cells) return in_tail(knot);
    if (knot >= cells - tail_cells) return 1 - in_tail(cells - knot);
    return static_cast<double>(knot - tail_cells + 1) / even;
  }

  struct Knot {
    double x = 0;
    double tilt = 0;  ///< of the cell to the right
  };
  std::array<Knot, cells + 1> knots_{};
};

}  // namespace mendworth
