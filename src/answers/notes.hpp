#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// The usual cautions of the device's hazards.
[[nodiscard]] std::vector<Weighing::Caution> cautions_of(const Case& c, const RateBook& rates);
/// The defaults used, and which of them decided anything; after the sensitivity rows.
/// Every number of the case that bears on a decision, with where it comes from.
void add_inputs(Weighing& w, const Case& c);
void add_defaults(Weighing& w, const Case& c);
/// What a reader should know beside the figures.
void add_notes(Weighing& w, const Contest& contest);

}  // namespace mendworth
