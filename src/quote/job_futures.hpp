#pragma once

#include <cstdint>
#include <vector>

#include "quote/job_plan.hpp"

namespace mendworth {

/// A job in one future, as the shop lives it: minutes on the bench and money spent, no rate and no price.
struct JobFuture {
  double minutes = 0;           ///< as planned
  double luck_minutes = 0;      ///< more at the first visit
  double order = 0;             ///< landed, the first one
  double consumables = 0;       ///< of the first opening
  double luck_money = 0;        ///< more orders, consumables, mending, a second attempt
  double warranty_minutes = 0;  ///< on returns
  double warranty_money = 0;
  double returns = 0;       ///< of new pieces
  double mates_failed = 0;  ///< old ones, within the same time
  double stock = 0;         ///< worth of the drawer before, less after
  bool cured = false;
  bool lost = false;
};

struct JobFuturesSettings {
  std::uint64_t seed = 1;
  int futures = 0;
  int threads = 1;
  int warranty_days = 0;
  bool parts_from_customer =
      false;  ///< nothing is ordered, and nothing comes back under a warranty of the part
};

/// Runs a job and the returns of its new pieces through futures. `c` has the structure of the case that `book` and
/// `plan` were made for; its numbers may differ. A return within the warranty is a visit like any other, with its
/// order and its luck; it renews what failed, again and again until the warranty ends.
[[nodiscard]] std::vector<JobFuture> run_job(const Case& c, const OrderBook& book, const JobPlan& plan,
                                             const JobFuturesSettings& settings, ModelCache& cache);

/// What the leftovers of a plan's order add to that if all goes well.
[[nodiscard]] double leftovers_worth(const Case& c, const OrderBook& book, const JobPlan& plan);

}  // namespace mendworth
