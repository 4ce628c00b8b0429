#pragma once

#include <cstdint>
#include <vector>

#include "model/basket_draft.hpp"

namespace mendworth {

/// Finds good baskets to compare with, by choosing for each part alone and changing one part, or one supplier, at a
/// time. Counts its steps. Internal to best_baskets.
void first_baskets(const std::vector<BasketSupplier>& suppliers, std::vector<PartMenu>& menus,
                   BasketDraft& draft, std::int64_t& steps);

}  // namespace mendworth
