#pragma once

#include <limits>
#include <vector>

#include "model/purchase.hpp"

/// The cost at one supplier as a function of the goods, cut into ranges on which it is simple, and straight lines
/// below it. Goods in the supplier's currency, costs in the case's.
namespace mendworth {

/// Goods from..to of this job, both ends included, that are charged on the same terms. There the cost is straight,
/// or, with goods for other jobs in the parcel, bends downwards.
struct ParcelRange {
  double from = 0;
  double to = std::numeric_limits<double>::infinity();
  ParcelTerms terms;
};

/// Ranges that between them hold any goods which the supplier accepts, each on its terms; they may overlap by a
/// rounding. With goods for other jobs they are cut finer, so that a straight line is never far from the cost.
[[nodiscard]] std::vector<ParcelRange> parcel_ranges(const Supplier& supplier, Parcel parcel);

}  // namespace mendworth
