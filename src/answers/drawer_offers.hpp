#pragma once

#include <span>

#include "answers/purchasing.hpp"

namespace mendworth {

/// Lets the basket take pieces at hand: the case with one more supplier, the drawer, that ships at once for nothing and
/// sells each candidate's pieces, as many as are needed, for what they would be worth elsewhere: the first piece taken
/// is the one that would be used last. Fewer than are needed may be joined by bought ones, as any short stock. The case
/// as it is where no piece is at hand.
[[nodiscard]] Case with_drawer_offers(const Case& c, std::span<const WishedPart> wished);

}  // namespace mendworth
