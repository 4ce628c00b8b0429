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
[[nodiscard]] std::vector<ParcelRange> parcel_ranges(const Supplier& supplier);

/// What one more unit of goods costs beside shipping and handling: with tax, exchange and, if dutiable, duty.
[[nodiscard]] double landed_slope(const Supplier& supplier, bool dutiable);

/// The slope of the straight line between the ends of a range; of an endless one landed_slope. The line lies on or
/// below the cost.
[[nodiscard]] double chord_slope(const Supplier& supplier, const ParcelRange& range);

/// The least of cost - price * goods over a range; minus infinity if it falls for ever.
[[nodiscard]] double least_beside_goods(const Supplier& supplier, const ParcelRange& range, double price);

}  // namespace mendworth
