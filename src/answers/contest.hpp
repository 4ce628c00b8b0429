#pragma once

#include <optional>
#include <string>
#include <vector>

#include "futures/ensemble.hpp"
#include "mendworth/weigh.hpp"

namespace mendworth {

/// All options of a case, each with its best purchase, run through the same futures. Everything that is answered
/// is answered from here.
struct Contest {
  DeviceModel model;
  OrderBook book;
  std::vector<Option> options;
  std::vector<int> fallbacks;  ///< per option: the replacement bought when a device is lost; -1: none
  std::vector<UnitCost> unit;  ///< base prices
  Ensemble ensemble;           ///< all futures, costs kept
  bool referred = false;       ///< a hazard is not for one's own hands
  bool unpriced = false;       ///< no replacement has a price
  std::vector<std::string> notes;

  explicit Contest(const Case& c) : model{.c = c}, book(model.c) {}
  Contest(const Contest&) = delete;
  Contest& operator=(const Contest&) = delete;

  [[nodiscard]] bool is_repair(std::size_t option) const;
  [[nodiscard]] bool is_priced_replacement(std::size_t option) const;
  /// The option of least cost among those that `wanted` accepts; costs[i] goes with options[i].
  template <class Wanted>
  [[nodiscard]] std::optional<std::size_t> least(const std::vector<double>& costs, Wanted wanted) const {
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < options.size(); ++i) {
      if (wanted(i) && (!best || costs[i] < costs[*best])) best = i;
    }
    return best;
  }
  [[nodiscard]] std::optional<std::size_t> best_repair(const std::vector<double>& costs) const;
  [[nodiscard]] std::optional<std::size_t> best_replacement(const std::vector<double>& costs) const;
  [[nodiscard]] std::vector<double> mean_costs() const;
  /// Mean number of devices without a known price that an option buys, discounted.
  [[nodiscard]] double price_weight(std::size_t option) const;
};

/// Enumerates, screens purchases on a few futures, and runs what is left on all of them.
void hold(Contest& contest, const RateBook& rates, const WeighSettings& settings, ModelCache& cache);

}  // namespace mendworth
