#pragma once

#include <algorithm>
#include <vector>

namespace mendworth {

/// Rising, each value once.
inline void sort_unique(std::vector<int>& values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
}

}  // namespace mendworth
