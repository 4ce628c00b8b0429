#pragma once

#include <string>
#include <vector>

#include "mendworth/weigh.hpp"

namespace mendworth {

/// The rules for later failures as one short sentence without a full stop: "repair again if it fails within 4 years,
/// replace after that"; a few clauses where kinds of failure differ: "repair again with a spare at hand within 5 years,
/// without one within 3 years; else replace". Times are rounded as one says them; kinds whose times differ by less than
/// a fifth are taken as alike. Empty without rules.
[[nodiscard]] std::string again_words(const std::vector<AgainRule>& rules);

}  // namespace mendworth
