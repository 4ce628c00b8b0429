#pragma once

#include "mendworth/weigh.hpp"

namespace mendworth {

/// The settings with the number of threads filled in. Throws std::invalid_argument if one is out of range.
[[nodiscard]] WeighSettings checked(WeighSettings settings);

/// So many futures, or those that the settings fix if these are fewer.
[[nodiscard]] int at_most(int futures, const WeighSettings& settings) noexcept;

}  // namespace mendworth
