#include "model/basket_lots.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "base/sort_unique.hpp"

namespace mendworth {
namespace {

constexpr std::size_t kMostLots = 20'000;  // of one source
constexpr int kAllQuantities = 24;         // of one line of a split

// The last allowed quantity of at most `pieces`; 0: none.
int most_allowed(const Offer& offer, int pieces) {
  const int most = std::min(pieces, offer.stock.value_or(pieces)) / offer.multiple * offer.multiple;
  return most >= std::max(offer.least, 1) ? most : 0;
}

// Every quantity below `need`, or where these are many the ends of each price.
std::vector<int> split_quantities(const Offer& offer, int need, bool all) {
  std::vector<int> quantities;
  if (all) {
    for (auto q = least_allowed(offer, 1); q && *q < need; q = least_allowed(offer, *q + 1))
      quantities.push_back(*q);
    return quantities;
  }
  quantities = {least_allowed(offer, 1).value_or(0), most_allowed(offer, need - 1)};
  for (const PriceBreak& step : offer.prices) {
    quantities.push_back(least_allowed(offer, step.from).value_or(0));
    quantities.push_back(most_allowed(offer, std::min(step.from, need) - 1));
  }
  sort_unique(quantities);
  std::erase_if(quantities, [&](int q) { return q < 1 || q >= need; });
  return quantities;
}

}  // namespace

BasketSupplier::BasketSupplier(const Supplier& s, bool is_permitted, Parcel parcel)
    : supplier(&s), permitted(is_permitted), slope(not_to_be_had), lead_days(s.lead_days.base()) {
  ranges = parcel_ranges(s, parcel);
  for (const ParcelRange& range : ranges) {
    slope = std::min(slope, landed_slope(s, range.terms.dutiable));
    cost_from.push_back(cost_on_terms(s, range.terms, range.from, parcel).total);
    cost_to.push_back(range.to < not_to_be_had ? cost_on_terms(s, range.terms, range.to, parcel).total
                                               : not_to_be_had);
    endless_from = range.from;
  }
}

void BasketSupplier::end_at(double most, Parcel parcel) {
  ParcelRange& last = ranges.back();
  last.to = std::max(most, last.from);
  cost_to.back() = cost_on_terms(*supplier, last.terms, last.to, parcel).total;
}

bool LotLister::brings_all(std::size_t offer) const {
  return least_allowed(candidate_.offers[offer], pieces_).has_value();
}

void LotLister::enter(std::vector<Source>& sources, Lot lot) {
  std::vector<std::size_t> sellers;
  for (const LotLine& line : lot.lines)
    sellers.push_back(
        static_cast<std::size_t>(candidate_.offers[static_cast<std::size_t>(line.offer)].supplier));
  std::vector<std::size_t> distinct = sellers;
  std::sort(distinct.begin(), distinct.end());
  distinct.erase(std::unique(distinct.begin(), distinct.end()), distinct.end());
  const auto [place, is_new] = place_.try_emplace(distinct, sources.size());
  if (is_new) sources.push_back(Source{index_, distinct, {}, {}});
  Source* const source = &sources[place->second];
  for (const std::size_t s : distinct) {
    double goods = 0;
    for (std::size_t i = 0; i < sellers.size(); ++i) {
      const LotLine& line = lot.lines[i];
      if (sellers[i] == s)
        goods += line_price(candidate_.offers[static_cast<std::size_t>(line.offer)], line.quantity);
    }
    source->goods.push_back(goods);
  }
  source->lots.push_back(std::move(lot));
}

bool LotLister::list_key(std::vector<Source>& sources) {
  bool any_short = false;
  for (std::size_t k = 0; k < candidate_.offers.size(); ++k) {
    const Offer& offer = candidate_.offers[k];
    const BasketSupplier& seller = suppliers_[static_cast<std::size_t>(offer.supplier)];
    if (!seller.permitted) continue;
    const std::optional<int> pack = least_allowed(offer, pieces_);
    if (!pack) {
      any_short = any_short || least_allowed(offer, 1).has_value();
      continue;
    }
    std::vector<int> quantities;
    for (auto q = pack; q && *q <= flat_from_; q = least_allowed(offer, *q + 1)) {
      if (quantities.size() > kMostLots) {
        cut_off_ = true;
        break;
      }
      quantities.push_back(*q);
    }
    quantities.push_back(*pack);
    if (const auto flat = least_allowed(offer, std::max(flat_from_, *pack))) quantities.push_back(*flat);
    for (const int q : turning_points(offer, *seller.supplier, 0, *pack, parcel_)) quantities.push_back(q);
    sort_unique(quantities);
    for (const int q : quantities) enter(sources, {q, {{static_cast<int>(k), q}}});
  }
  if (any_short) list_splits(sources);
  return !cut_off_;
}

void LotLister::list_splits(std::vector<Source>& sources) {
  const auto many = [&](const Offer& offer) {
    return std::min(most_allowed(offer, pieces_ - 1), pieces_) / offer.multiple > kAllQuantities;
  };
  if (std::none_of(candidate_.offers.begin(), candidate_.offers.end(), many)) {
    split(sources, 0, 0, false);
    return;
  }
  // Too many quantities to list: each offer in turn brings what the others, at the ends of their prices, leave open.
  cut_off_ = true;
  for (std::size_t k = 0; k < candidate_.offers.size(); ++k) {
    last_ = k;
    split(sources, 0, 0, brings_all(k));
  }
}

// Completes a lot with `quantity` of one more offer.
void LotLister::complete(std::vector<Source>& sources, std::size_t offer, int quantity, int pieces) {
  Lot lot{pieces + quantity, lines_};
  lot.lines.push_back({static_cast<int>(offer), quantity});
  const bool all_needed = std::all_of(lot.lines.begin(), lot.lines.end(), [&](const LotLine& line) {
    return lot.pieces - line.quantity < pieces_;
  });
  if (lot.pieces >= pieces_ && all_needed) enter(sources, std::move(lot));
}

void LotLister::split(std::vector<Source>& sources, std::size_t from, int pieces, bool one_brings_all) {
  if (pieces >= pieces_ || looks_ > most_looks_) return;
  if (last_ != kNone && !lines_.empty()) {
    const Offer& offer = candidate_.offers[last_];
    const auto rest = least_allowed(offer, pieces_ - pieces);
    if (rest && *rest < pieces_ && suppliers_[static_cast<std::size_t>(offer.supplier)].permitted)
      complete(sources, last_, *rest, pieces);
  }
  for (std::size_t k = from; k < candidate_.offers.size(); ++k) {
    const Offer& offer = candidate_.offers[k];
    if (k == last_ || !suppliers_[static_cast<std::size_t>(offer.supplier)].permitted) continue;
    const bool all = brings_all(k);
    if (all && one_brings_all) continue;
    for (const int quantity : split_quantities(offer, pieces_, last_ == kNone)) {
      if (++looks_ > most_looks_) {
        cut_off_ = true;
        return;
      }
      if (!lines_.empty()) complete(sources, k, quantity, pieces);
      lines_.push_back({static_cast<int>(k), quantity});
      split(sources, k + 1, pieces + quantity, one_brings_all || all);
      lines_.pop_back();
    }
  }
}

bool LotLister::list_others(Source& source, const Keep& keep) const {
  if (source.supplier.size() != 1) return true;
  const BasketSupplier& seller = suppliers_[source.supplier.front()];
  const auto known = static_cast<std::ptrdiff_t>(source.lots.size());
  for (std::size_t k = 0; k < candidate_.offers.size(); ++k) {
    const Offer& offer = candidate_.offers[k];
    if (static_cast<std::size_t>(offer.supplier) != source.supplier.front()) continue;
    for (std::size_t b = 0; b < offer.prices.size(); ++b) {
      const bool last = b + 1 == offer.prices.size();
      const int end = last ? std::numeric_limits<int>::max() : offer.prices[b + 1].from;
      const int begin = std::max({b == 0 ? 1 : offer.prices[b].from, pieces_, flat_from_ + 1});
      for (auto q = least_allowed(offer, begin); q && *q < end; q = least_allowed(offer, *q + 1)) {
        const double goods = line_price(offer, *q);
        if (!keep(goods, *q)) break;
        if (source.lots.size() >= kMostLots) return false;
        const auto is_it = [&](const Lot& lot) {
          return lot.lines.size() == 1 && lot.lines[0].offer == static_cast<int>(k) && lot.pieces == *q;
        };
        if (std::none_of(source.lots.begin(), source.lots.begin() + known, is_it)) {
          source.lots.push_back({*q, {{static_cast<int>(k), *q}}});
          source.goods.push_back(goods);
        }
        if (goods >= seller.endless_from || *q == std::numeric_limits<int>::max()) break;
      }
    }
  }
  return true;
}

}  // namespace mendworth
