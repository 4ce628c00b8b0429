#pragma once

#include <span>
#include <string>
#include <vector>

#include "answers/purchasing.hpp"

namespace mendworth {

/// Lets the basket take pieces at hand: the case with one more supplier, the drawer, that ships at once for nothing and
/// sells each candidate's pieces, as many as are needed, for what they would be worth elsewhere: the first piece taken
/// is the one that would be used last. The case as it is where no piece is at hand.
[[nodiscard]] Case with_drawer_offers(const Case& c, std::span<const WishedPart> wished);

/// Where a candidate's pieces at hand are fewer than are needed, the basket may take them all and buy what is missing
/// of the same candidate; does so in `wished` for every part where that costs less, and says it in sentences.
/// `shop` is with_drawer_offers of `c`.
[[nodiscard]] std::vector<std::string> take_from_drawer(const Case& c, const Case& shop,
                                                        std::vector<WishedPart>& wished);

}  // namespace mendworth
