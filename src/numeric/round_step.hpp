#pragma once

namespace mendworth {

/// The least of 1, 2 and 5 times a power of ten that is at least `least` > 0, but for rounding.
[[nodiscard]] double round_step(double least);

}  // namespace mendworth
