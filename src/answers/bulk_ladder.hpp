#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"
#include "model/purchase.hpp"
#include "numeric/demand.hpp"

/// What to buy of one candidate for a demand: the best single purchase, and the best size of repeated orders.
namespace mendworth {

/// Demand for a part, as the ladder asks about it.
struct LadderDemand {
  Demand period;                ///< pieces until the end
  std::optional<Demand> until;  ///< pieces before the date that is asked for
  /// Pieces within so many years, without those wanted at once.
  std::function<Demand(double years)> within;
  double years = 0;     ///< of the period
  double per_year = 0;  ///< usual pieces a year, without those wanted at once
  double shelf_years = 0;
};

/// The cheapest landed cost of exactly so many pieces of a candidate, over its offers; at base prices.
struct Purchase {
  int quantity = 0;
  int offer = -1;  ///< -1: nothing is bought
  LandedCost cost;
};
[[nodiscard]] std::optional<Purchase> cheapest_purchase(const Case& c, int part, int candidate, int quantity);
/// The cheapest purchase of at least so many pieces; absent if nobody sells them.
[[nodiscard]] std::optional<Purchase> cheapest_purchase_of_at_least(const Case& c, int part, int candidate,
                                                                    int pieces);
/// What a piece that is missing costs unless the case says so: the cheapest order of a single piece, of any candidate,
/// and the downtime of its wait.
[[nodiscard]] double usual_shortage_cost(const Case& c, int part);
/// Lead time in days of the candidate's first offer, at base.
[[nodiscard]] double usual_lead_days(const Case& c, int part, int candidate);

/// Rows, best purchase and repeated orders. `c` holds the offers to choose from.
[[nodiscard]] BulkLadder ladder_of(const Case& c, int part, int candidate, const Bulk& bulk,
                                   const LadderDemand& demand, const std::vector<int>& asked);

}  // namespace mendworth
