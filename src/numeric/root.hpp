#pragma once

#include <functional>
#include <vector>

namespace mendworth {

struct Crossings {
  std::vector<double> at;
  double value_low = 0, value_high = 0;  ///< at the ends
  double widest = 0;  ///< the widest bracket that was left, 0 where every zero was met exactly
};

/// Where a function crosses zero in [low, high]: the range is scanned at `points` >= 2 places (evenly), each
/// change of sign is narrowed (TOMS 748) to `relative_width` > 0 of the range or `max_steps` >= 1
/// evaluations; `widest` tells which. A jump across zero counts as a crossing at the jump. A zero that
/// touches without crossing may be missed between scan places; an exact zero at a scan place counts once, and
/// so does a run of them, at its first place. Rising order. Throws std::domain_error unless low < high and
/// every value met is finite.
[[nodiscard]] Crossings find_crossings(const std::function<double(double)>& f, double low, double high,
                                       int points, double relative_width, int max_steps);

}  // namespace mendworth
