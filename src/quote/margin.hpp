#pragma once

#include <vector>

#include "quote/job_futures.hpp"

namespace mendworth {

/// What a job earns, whatever happens; without taxes, in the case's currency.
struct JobIncome {
  double cured = 0;      ///< if the device works afterwards
  double not_cured = 0;  ///< if it does not, but is no worse than before
};

/// What an hour and a complaint cost the shop.
struct ShopCosts {
  Quantity cost_rate;          ///< an hour
  Quantity come_back;          ///< chance that the work is complained of, 0..1
  Quantity come_back_minutes;  ///< the time that takes
  double liability = 0;        ///< for a device lost on the bench
};

/// Rates and chances as the shop file states them, the case's labour rate and minutes of an opening where it does not.
[[nodiscard]] ShopCosts shop_costs(const Shop& shop, const Case& c);

/// What is left of each future: income less cost, the shop's own ranges drawn too.
struct Margins {
  std::vector<double> margins;  ///< per future
  JobCost cost;                 ///< means
  double income = 0;            ///< mean
  double cure_chance = 0, lost_chance = 0;
  double returns = 0;       ///< mean
  double mates_failed = 0;  ///< mean

  [[nodiscard]] double mean() const noexcept { return income - cost.total(); }
};
[[nodiscard]] Margins margins_of(const std::vector<JobFuture>& futures, const JobIncome& income,
                                 const ShopCosts& costs, std::uint64_t seed);

/// The q-quantile of values, 0 <= q <= 1: the least one that a share q of them does not exceed. Not for an empty list.
[[nodiscard]] double quantile_of(std::vector<double> values, double q);

}  // namespace mendworth
