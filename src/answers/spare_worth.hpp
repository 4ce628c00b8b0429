#pragma once

#include <vector>

#include "answers/contest.hpp"
#include "mendworth/buy.hpp"
#include "model/basket.hpp"

namespace mendworth {

/// What leftovers of each candidate of a part are worth to one repair plan. Pieces of a candidate that does not fit are
/// worth nothing: what does not fit here does not fit the other uses of the part either.
struct SpareWorth {
  struct OfCandidate {
    WorthCurve
        if_used;  ///< the candidate is the one that fits: own later failures, luck, other devices, resale
    WorthCurve elsewhere;      ///< other devices and resale alone, as if this device needed none
    std::vector<double> used;  ///< at [k] of k leftovers: expected number used within shelf life and horizon
    double small_order = 0;    ///< what one costs when it is needed; 0 where it cannot be had
    double resale = 0;  ///< of an unused piece at the horizon, today's money; 0 if it does not keep so long
  };
  std::vector<OfCandidate> candidates;
};

/// By simulation of `option`'s plan with 0, 1, 2 ... pieces more than it needs, all else alike and every candidate taken
/// to fit; the same futures for all. Steps that the noise makes rise are levelled out, so that curves are concave.
[[nodiscard]] SpareWorth spare_worth(const Contest& contest, const Option& option, int fallback, int part,
                                     int need, const BuySettings& settings);

/// The nondecreasing, concave curve nearest to `curve` in the mean of neighbouring steps (pooled adjacent violators),
/// with every step at least `least` and at most `most`.
[[nodiscard]] WorthCurve levelled(const WorthCurve& curve, double least, double most);

}  // namespace mendworth
