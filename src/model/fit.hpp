#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "mendworth/case.hpp"

/// Whether candidates fit, from measured dimensions (src/README.md, Fit). The true dimension is rectangular between
/// its limits, the measured value plus and minus `limit` (JCGM 100:2008, GUM, 4.3.7), so that every chance here is
/// a ratio of lengths or volumes, exact but for rounding. Dimensions are independent of each other. Candidates of one
/// part meet the same true dimensions; in what no dimension tells (Candidate::fit, at its base) they are independent.
namespace mendworth {

/// The true dimensions that a piece fits, among those that the measurement leaves open: as shares, 0 for the least and
/// 1 for the greatest of them, so that the true share is uniform on 0..1.
struct FitWindow {
  double low = 0, high = 1;  ///< 0 <= low <= high <= 1; equal: it fits none
  [[nodiscard]] double chance() const noexcept { return high - low; }
  [[nodiscard]] bool holds(double share) const noexcept { return low <= share && share < high; }
};

/// The catalogued size in mm of a candidate in one dimension of its part; absent where it is not catalogued.
[[nodiscard]] std::optional<double> nominal_of(const Candidate& candidate, std::size_t dimension);
/// The window of a piece of nominal size `nominal` in mm: all of it where the size is not catalogued. Differences below
/// a billionth of a mm are taken for rounding.
[[nodiscard]] FitWindow fit_window(const Dimension& dimension, std::optional<double> nominal);
/// The same for each dimension of the part.
[[nodiscard]] std::vector<FitWindow> fit_windows(const Part& part, const Candidate& candidate);

/// The chance that a candidate fits: in every dimension and in all else, 0..1.
[[nodiscard]] double fit_chance(const Part& part, const Candidate& candidate);

/// What becomes of candidates that are tried one after the other until one fits.
struct FirstFit {
  std::vector<double> first;  ///< by place in the order: the chance that this one is the first that fits
  double none = 1;            ///< that none does; with the others it adds up to one
};

/// The chances for the candidates `order` (indices into Part::candidates, each at most once) of one part, over their
/// common true dimensions. So first[1] / (1 - first[0]) is the chance that the second fits given that the first did
/// not. Works on disjoint boxes of true dimensions, at most (2n + 1)^d for n candidates in d dimensions.
/// Throws std::invalid_argument for an index out of range or given twice.
[[nodiscard]] FirstFit first_fit(const Part& part, std::span<const int> order);

}  // namespace mendworth
