#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"
#include "numeric/demand.hpp"

/// What to buy of one candidate for a demand: the best single purchase, and the best size of repeated orders.
namespace mendworth {

/// Demand for a part, as the ladder asks about it.
struct LadderDemand {
  Demand later;                 ///< pieces until the end, beside those wanted at once
  int now = 0;                  ///< wanted at once
  int at_hand = 0;              ///< in the drawer, used first
  int failed_devices = 0;       ///< that wait for the first order
  bool ends = true;             ///< nothing is wanted after the period
  std::optional<Demand> until;  ///< all pieces before the date that is asked for
  /// Pieces within so many years, without those wanted at once.
  std::function<Demand(double years)> within;
  double years = 0;     ///< of the period
  double per_year = 0;  ///< usual pieces a year, without those wanted at once
  double shelf_years = 0;
};

/// Rows, best purchase and repeated orders. `c` holds the offers to choose from.
[[nodiscard]] BulkLadder ladder_of(const Case& c, int part, int candidate, const Bulk& bulk,
                                   const LadderDemand& demand, const std::vector<int>& asked);

/// The best purchases from these offers alone, and what each of the quantities `wanted` comes to.
[[nodiscard]] BulkOffer compared_offer(const Case& c, int part, int candidate, const Bulk& bulk,
                                       const LadderDemand& demand, const std::vector<int>& wanted);

}  // namespace mendworth
