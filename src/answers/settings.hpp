#pragma once

#include "mendworth/weigh.hpp"

namespace mendworth {

/// The settings with the number of threads filled in. Throws std::invalid_argument if one is out of range.
[[nodiscard]] WeighSettings checked(WeighSettings settings);

}  // namespace mendworth
