#pragma once

#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// The option as it is reported: costs by heading, chances, yearly cost.
[[nodiscard]] OptionResult option_result(const Contest& contest, std::size_t option);

}  // namespace mendworth
