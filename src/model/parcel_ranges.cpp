#include "model/parcel_ranges.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth {
namespace {

// Wider than the slack with which a limit counts as reached.
double margin(double limit) { return 4e-9 * std::max(1.0, std::abs(limit)); }

// Where the terms may change, and where long bent ranges are cut. Rising, all above 0.
std::vector<double> cuts_of(const Supplier& supplier, double others) {
  std::vector<double> cuts;
  const auto cut_at = [&](double goods) {
    if (goods > 0) cuts.push_back(goods);
  };
  const double free_limit = supplier.duty_free_up_to.base();
  cut_at(supplier.low_order_below.base() - others);
  cut_at(free_limit - others);
  for (const ShippingTier& tier : supplier.shipping) {
    cut_at(tier.goods_from - others);
    if (supplier.duty_on_shipping) cut_at(free_limit - tier.price.base() - others);
  }
  for (const double part : {0.3, 1.0, 3.0}) cut_at(part * others);
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  return cuts;
}

}  // namespace

std::vector<ParcelRange> parcel_ranges(const Supplier& supplier, Parcel parcel) {
  const double others = parcel == Parcel::with_other_goods ? supplier.other_goods : 0;
  const std::vector<double> cuts = cuts_of(supplier, others);
  const bool straight = others <= 0;
  std::vector<ParcelRange> ranges;
  const auto add = [&](const ParcelRange& range) {
    if (range.terms.low && supplier.refuses_low_orders) return;
    if (straight && !ranges.empty() && ranges.back().terms == range.terms && ranges.back().to >= range.from) {
      ranges.back().to = range.to;
    } else {
      ranges.push_back(range);
    }
  };
  for (std::size_t i = 0; i <= cuts.size(); ++i) {
    ParcelRange range;
    if (i > 0) range.from = std::max(0.0, cuts[i - 1] - margin(cuts[i - 1]));
    if (i < cuts.size()) range.to = cuts[i] + margin(cuts[i]);
    const double low = i > 0 ? cuts[i - 1] : 0;
    range.terms = parcel_terms(supplier, i < cuts.size() ? (low + cuts[i]) / 2 : 2 * low + 1, parcel);
    add(range);
    if (i == cuts.size()) break;
    // Goods that meet a limit to the cent may have terms of their own: free shipping reached, no duty yet.
    ParcelRange point{std::max(0.0, cuts[i] - margin(cuts[i])), range.to,
                      parcel_terms(supplier, cuts[i], parcel)};
    const double next = i + 1 < cuts.size() ? (cuts[i] + cuts[i + 1]) / 2 : 2 * cuts[i] + 1;
    if (point.terms != range.terms && point.terms != parcel_terms(supplier, next, parcel)) add(point);
  }
  return ranges;
}

}  // namespace mendworth
