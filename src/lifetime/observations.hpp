#pragma once

#include <limits>
#include <vector>

#include "mendworth/history.hpp"

/// Records of lives in the form that likelihoods are computed from: logarithms of ages about a common centre,
/// equal terms gathered, so that a history costs by its different ages.
namespace mendworth::lifetime {

inline constexpr double infinity = std::numeric_limits<double>::infinity();

struct LogAge {
  double x = 0;       ///< ln(age) - centre
  double weight = 0;  ///< pieces; below 0 for a term that is taken back
};

/// Pieces that worked at one age (which stands among the survivors) and had failed by another.
struct LogInterval {
  double high = 0;    ///< ln(upper age) - centre
  double width = 0;   ///< ln(upper age / lower age), > 0; infinity if the lower age is 0
  double weight = 0;  ///< pieces
};

struct Observations {
  double centre = 0;              ///< ln of the largest age that enters a hazard
  std::vector<LogAge> failures;   ///< exact ones, rising
  std::vector<LogAge> survivors;  ///< last known to work: +weight; first seen, of any piece: -weight; rising
  std::vector<LogInterval> intervals;  ///< by (high, width)

  double exact = 0;      ///< pieces with an exact failure
  double exact_sum = 0;  ///< sum of weight x over them
  double exact_log_ages =
      0;               ///< sum of weight ln(age): the step from densities of ln(age) to those of the age
  double between = 0;  ///< pieces that failed in an interval, or before the first look

  double pieces_at_zero = 0;  ///< failed at age 0, left out of all that is above
  bool truncated = false;     ///< some piece came under watch after age 0

  // What bears on whether there is a maximum; ages themselves.
  double first_failure = 0, last_failure = 0;  ///< exact ones
  double longest_survival = 0;   ///< largest age at which a piece is known to have worked under watch
  double earliest_interval = 0;  ///< least upper end of an interval; infinity without any
};

/// Throws std::invalid_argument for a record that contradicts itself (see lifetime_of).
void require_valid(const LifeRecord& record);

/// Records must be valid.
[[nodiscard]] Observations observe(const std::vector<LifeRecord>& records);

}  // namespace mendworth::lifetime
