#pragma once

#include <vector>

#include "answers/purchasing.hpp"
#include "mendworth/buy.hpp"

namespace mendworth {

/// What spares are worth, the first, the second ... of every candidate in the best basket.
void answer_spares(Buying& b, const Case& c, const std::vector<WishedPart>& wished, const Basket& best);

/// For each part, the quantities of interest of its first candidate with the rest of the best basket as it is: every
/// break, the steps near the need, top-ups, the chosen one.
void answer_ladders(Buying& b, const Case& c, const std::vector<WishedPart>& wished, const Basket& best);

/// Who is the cheapest for which number of pieces, and at which exchange rate that turns.
void answer_suppliers(Buying& b, const Case& c, const Basket& best);

}  // namespace mendworth
