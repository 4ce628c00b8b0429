#pragma once

#include <cstdint>
#include <vector>

#include "futures/run.hpp"

namespace mendworth {

struct EnsembleSettings {
  std::uint64_t seed = 1;
  int futures = 0;
  int from = 0;               ///< the first of them that is run
  int threads = 1;            ///< never changes a result
  bool keep_costs = false;    ///< keep the cost of every option in every future
  bool keep_items = true;     ///< false: costs and counts alone
  bool keep_amounts = false;  ///< of items, apart for each randomisation
  double timeline_years = 0;  ///< 0: no timelines
  int timeline_bins = 0;
  /// False: prices and times stay at their base, and only what changes the course of things is drawn. Expected
  /// costs are the same, at less noise and less work; their spread is not.
  bool draw_prices = true;
};

/// Options run through the same futures.
struct Ensemble {
  int futures = 0;
  std::vector<int> runs;       ///< per option: futures that it was run through
  std::vector<Tally> tallies;  ///< per option
  std::vector<double> errors;  ///< per option: standard error of the mean cost
  /// [option][future], empty unless kept. Means are at steady prices, which have no noise of their own.
  std::vector<std::vector<double>> costs;
  std::vector<std::vector<double>>
      drawn_costs;                  ///< at the prices drawn for each future; empty: they are `costs`
  std::vector<Timeline> timelines;  ///< per option, means; empty unless asked for
  std::vector<Amounts> amounts;     ///< per option; empty unless kept

  /// The futures that follow on these, of the same options and kept alike; none with timelines.
  void append(const Ensemble& next);

  /// How the cost of an option spreads, future by future.
  [[nodiscard]] const std::vector<double>& spread(std::size_t option) const {
    return drawn_costs.empty() ? costs[option] : drawn_costs[option];
  }
  [[nodiscard]] double cost_error(std::size_t option) const { return errors[option]; }
  [[nodiscard]] double mean_cost(std::size_t option) const { return tallies[option].cost / runs[option]; }
  /// Mean discounted amount of an item.
  [[nodiscard]] double mean_amount(std::size_t option, int item) const {
    return tallies[option].items[static_cast<std::size_t>(item)].amount / runs[option];
  }
};

/// Runs every option through futures `settings.from` .. `settings.futures` - 1. Futures are cut into fixed blocks whose sums are
/// added in order, so the result is the same on any number of threads.
[[nodiscard]] Ensemble run_ensemble(const Scene& scene, const std::vector<Option>& options,
                                    const EnsembleSettings& settings);

/// Traces of a plan that never gives up, in futures 0, 1 ..; prices at their base. They take the memory of `others`.
[[nodiscard]] std::vector<Trace> run_traces(const Scene& scene, const Option& option, bool all_well_now,
                                            const EnsembleSettings& settings, std::vector<Trace> others = {});

}  // namespace mendworth
