#pragma once

#include <optional>
#include <vector>

#include "answers/purchasing.hpp"
#include "mendworth/buy.hpp"

namespace mendworth {

/// The best baskets, the one-supplier basket and the faster ones, into `b`. Returns the best; absent if some part
/// cannot be had, which is then said in `b.notes`.
[[nodiscard]] std::optional<Basket> answer_baskets(Buying& b, const Case& c,
                                                   const std::vector<WishedPart>& wished);

/// Pieces that each line brings for the first visit: none of a candidate that is bought for the case of a misfit.
[[nodiscard]] std::vector<int> pieces_needed(const Basket& basket, const std::vector<WishedPart>& wished);

/// Hedges and the order to try candidates in, for every part with a doubt.
void answer_fit(Buying& b, const Case& c, const std::vector<WishedPart>& wished, const Basket& best);

}  // namespace mendworth
