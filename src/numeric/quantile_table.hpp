#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "numeric/inverse_table.hpp"

namespace mendworth {

/// Another table of a law, for draws that must be fast: its cells hold equal shares, so that a draw finds its cell
/// without a search. Towards both ends, where a quantile may bend like a root, four cells hold half of the share of
/// the four before. The quantile is a parabola within a cell, continuous, never falling; each cell keeps its own mean.
class QuantileTable {
 public:
  QuantileTable() = default;
  explicit QuantileTable(const InverseTable& law) {
    for (std::size_t i = 0; i < knots_.size(); ++i) {
      const double u = share_below(i);
      knots_[i].x = u <= 0 ? law.first() : u >= 1 ? law.last() : law.quantile(u);
    }
    const std::vector<double> moments = law.moments();
    for (std::size_t i = 0; i < cells; ++i) {
      const double share = law.share_below(knots_[i + 1].x) - law.share_below(knots_[i].x);
      const double width = knots_[i + 1].x - knots_[i].x;
      if (!(share > 0 && width > 0)) continue;
      const double mean =
          (law.moment_below(knots_[i + 1].x, moments) - law.moment_below(knots_[i].x, moments)) / share;
      // The mean of (width - bend) s + bend s^2 over s in 0..1 is width/2 - bend/6; it rises while |bend| <= width.
      knots_[i].bend = std::clamp(3 * width - 6 * (mean - knots_[i].x), -width, width);
    }
  }

  /// The value below which a share u lies, 0 < u < 1.
  [[nodiscard]] double quantile(double u) const noexcept {
    const double place = u * even;
    auto cell = static_cast<std::size_t>(place);
    double s = place - static_cast<double>(cell);
    if (cell < replaced) {
      const Tail tail = tail_of(u);
      cell = tail_cells - 1 - tail.rank;
      s = tail.part;
    } else if (cell >= even - replaced) {
      const Tail tail = tail_of(1 - u);
      cell = cells - tail_cells + tail.rank;
      s = 1 - tail.part;
    } else {
      cell += tail_cells - replaced;
    }
    const Knot& knot = knots_[cell];
    return knot.x + s * (knots_[cell + 1].x - knot.x - knot.bend * (1 - s));
  }

 private:
  static constexpr std::size_t even = 64;           // cells if there were no tails
  static constexpr int first_halving = 5;           // the tails begin at a share of 2^-4
  static constexpr std::size_t replaced = 64 / 16;  // even cells that one tail takes the place of
  // Four to each halving of the share, down to 2^-51; the outermost reaches to the end.
  static constexpr int last_halving = 51, part_bits = 2, parts = 1 << part_bits;
  static constexpr std::size_t tail_cells = parts * (last_halving - first_halving + 1) + 1;
  static constexpr std::size_t cells = even - 2 * replaced + 2 * tail_cells;

  static constexpr double two_to(int power) noexcept {
    return std::bit_cast<double>(static_cast<std::uint64_t>(1023 + power) << 52U);
  }

  /// Where a share off an end lies that is not above that of a tail: cell by rank from the middle outwards, and part
  /// of it from outside.
  struct Tail {
    std::size_t rank;
    double part;
  };
  [[nodiscard]] static Tail tail_of(double v) noexcept {
    if (v >= two_to(1 - first_halving)) return {0, 1};
    // v = 2^-halving (1 + fraction); the first bits of the fraction tell the cell.
    const std::uint64_t bits = std::bit_cast<std::uint64_t>(v);
    const int halving = 1023 - static_cast<int>(bits >> 52U);
    if (halving > last_halving) return {tail_cells - 1, v * two_to(last_halving)};
    const auto upwards = static_cast<int>((bits >> (52U - part_bits)) & (parts - 1));
    return {static_cast<std::size_t>(parts * (halving - first_halving) + parts - 1 - upwards),
            parts * (v * two_to(halving) - 1) - upwards};
  }

  [[nodiscard]] static double share_below(std::size_t knot) noexcept {
    const auto in_tail = [](std::size_t from_end) {
      if (from_end == 0) return 0.0;
      const auto above = static_cast<int>(from_end) - 1;  // cells above the outermost
      return two_to(above / parts - last_halving) * (1.0 + static_cast<double>(above % parts) / parts);
    };
    if (knot <= tail_cells) return in_tail(knot);
    if (knot >= cells - tail_cells) return 1 - in_tail(cells - knot);
    return static_cast<double>(knot - tail_cells + replaced) / even;
  }

  struct Knot {
    double x = 0;
    double bend = 0;  ///< of the parabola in the cell to the right
  };
  std::array<Knot, cells + 1> knots_{};
};

}  // namespace mendworth
