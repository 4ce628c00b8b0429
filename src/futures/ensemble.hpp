#pragma once

#include <cstdint>
#include <vector>

#include "futures/run.hpp"

namespace mendworth {

struct EnsembleSettings {
  std::uint64_t seed = 1;
  int first_future = 0;
  int futures = 0;          ///< how many, from the first
  int threads = 1;          ///< never changes a result
  bool keep_costs = false;  ///< keep the cost of every option in every future
  bool keep_items = true;   ///< false: costs and counts alone
  int timeline_bins = 0;    ///< 0: no timelines
  /// False: prices and times stay at their base, and only what changes the course of things is drawn. Expected
  /// costs are the same, at less noise and less work; their spread is not.
  bool draw_prices = true;
};

/// Options run through the same futures.
struct Ensemble {
  int futures = 0;
  std::vector<int> runs;                       ///< per option: futures that it was run through
  std::vector<Tally> tallies;                  ///< per option
  std::vector<double> errors;                  ///< per option: standard error of the mean cost
  std::vector<std::vector<double>> costs;      ///< [option][future, from the first]; empty unless kept
  std::vector<std::vector<double>> timelines;  ///< [option][bin], mean cost; empty unless asked for

  [[nodiscard]] double cost_error(std::size_t option) const { return errors[option]; }
  [[nodiscard]] double mean_cost(std::size_t option) const { return tallies[option].cost / runs[option]; }
  /// Mean discounted amount of an item.
  [[nodiscard]] double mean_amount(std::size_t option, int item) const {
    return tallies[option].items[static_cast<std::size_t>(item)].amount / runs[option];
  }
};

/// Runs every option through `settings.futures` futures. `fallbacks[i]` goes with `options[i]`. Futures are cut into
/// fixed blocks whose sums are added in order, so the result is the same on any number of threads.
[[nodiscard]] Ensemble run_ensemble(const DeviceModel& model, const OrderBook& book,
                                    const std::vector<Option>& options, const std::vector<int>& fallbacks,
                                    const EnsembleSettings& settings);

}  // namespace mendworth
