#pragma once

#include <optional>

#include "answers/contest.hpp"

/// Which mates are worth renewing now: a choice over all subsets of the groups with working originals.
namespace mendworth {

struct PlanSearch {
  std::vector<Option>
      plans;  ///< one for each family that differs from the others, supplied, each with its rule
  std::optional<double>
      bound;        ///< where there are too many groups to look at every subset: none can cost less
  bool had = true;  ///< false: not even the failed parts can be had
};

/// Up to this many groups every subset is looked at.
inline constexpr int most_groups_by_subset = 12;

struct PlanSearchSettings {
  std::uint64_t seed = 1;
  int threads = 1;
  int choice_futures = 1024, worth_futures = 512;
  std::int64_t most_steps = BasketLimits{}.most_steps;  ///< of a search for a basket
  TellBasketProgress progress{};                        ///< of it
  /// The best plan and those that renew the same now, instead of the best of each family.
  bool best_only = false;
};

/// `book` gets the orders of the plans found, and of plans that came close; `store` holds the device's first futures.
[[nodiscard]] PlanSearch search_plans(const DeviceModel& model, const Chains& chains, OrderBook& book,
                                      FutureStore& store, const PlanSearchSettings& settings);

}  // namespace mendworth
