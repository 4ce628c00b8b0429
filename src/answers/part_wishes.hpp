#pragma once

#include <vector>

#include "answers/spare_worth.hpp"
#include "model/misfit.hpp"

namespace mendworth {

/// What one part asks of the basket, with what it was made from.
struct WishedPart {
  PartWish wish;
  MisfitCost misfit;
  SpareWorth spares;
  double give_up = 0;  ///< cost of giving up the repair, beyond having a working device
};

/// How many candidates of a part are considered, the first of them: all, but for a dozen or a very large number of
/// measured dimensions.
[[nodiscard]] int candidates_tried(const Part& part);

/// One for each part of which `option` needs pieces. `settings.pieces` replaces what the plan needs, and adds parts.
[[nodiscard]] std::vector<WishedPart> wished_parts(const Contest& contest, const Option& option, int fallback,
                                                   const BuySettings& settings);

}  // namespace mendworth
