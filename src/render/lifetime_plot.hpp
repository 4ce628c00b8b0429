#pragma once

#include <string>
#include <vector>

#include "mendworth/lifetime.hpp"

namespace mendworth {

/// The share still working against age: the distribution-free curve with its limits and the fitted law, drawn in
/// ASCII characters of `width` >= 40 columns, with axes and a legend. Empty if there is nothing to draw.
[[nodiscard]] std::vector<std::string> lifetime_plot(const GroupLifetime& group, LifeUnit unit,
                                                     double confidence, int width);

}  // namespace mendworth
