#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "numeric/mean_error.hpp"

namespace mendworth {

/// How much of each item there was, discounted, summed over futures but apart for each randomisation: any prices can be
/// put on it afterwards, and the error of what it costs is still known.
class Amounts {
 public:
  void add(int item, std::uint64_t future, double amount) {
    const auto at = static_cast<std::size_t>(item);
    if (sums_.size() <= at) sums_.resize(at + 1, RandomisedSums{});
    sums_[at][future % randomisations] += amount;
  }
  /// Those of other futures.
  void add(const Amounts& others) {
    if (sums_.size() < others.sums_.size()) sums_.resize(others.sums_.size(), RandomisedSums{});
    for (std::size_t i = 0; i < others.sums_.size(); ++i) {
      for (std::size_t r = 0; r < randomisations; ++r) sums_[i][r] += others.sums_[i][r];
    }
  }
  /// What it costs at these prices, by item; there may be more of these than of items.
  [[nodiscard]] RandomisedSums costs(const std::vector<double>& unit) const {
    RandomisedSums costs{};
    for (std::size_t i = 0; i < sums_.size(); ++i) {
      for (std::size_t r = 0; r < randomisations; ++r) costs[r] += sums_[i][r] * unit[i];
    }
    return costs;
  }

 private:
  std::vector<RandomisedSums> sums_;  ///< by item
};

}  // namespace mendworth
