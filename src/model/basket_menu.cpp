#include "model/basket_menu.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace mendworth {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();

double at(const WorthCurve& curve, int pieces) {
  if (curve.empty() || pieces <= 0) return 0;
  return curve[std::min(static_cast<std::size_t>(pieces), curve.size() - 1)];
}

std::size_t index_of(const std::vector<double>& sorted, double value) {
  return static_cast<std::size_t>(std::lower_bound(sorted.begin(), sorted.end(), value) - sorted.begin());
}

}  // namespace

BasketSupplier::BasketSupplier(const Supplier& s, bool is_permitted) : supplier(&s), permitted(is_permitted) {
  ranges = parcel_ranges(s);
  double base_price = kInfinite;
  for (const ParcelRange& range : ranges) {
    base_price = std::min(base_price, landed_slope(s, range.terms.dutiable));
    prices.push_back(landed_slope(s, range.terms.dutiable));
    prices.push_back(chord_slope(s, range));
    endless_from = range.from;
  }
  // Lower ones make a limit worth reaching, higher ones make it worth staying below.
  constexpr int kSteps = 16;
  for (int k = 0; k <= 3 * kSteps / 2; ++k) prices.push_back(base_price * k / kSteps);
  std::sort(prices.begin(), prices.end());
  prices.erase(std::unique(prices.begin(), prices.end()), prices.end());
  base = index_of(prices, base_price);
  least_beside.assign(prices.size(), kInfinite);
  for (const ParcelRange& range : ranges) {
    natural.push_back(index_of(prices, chord_slope(s, range)));
    std::vector<double> row;
    for (std::size_t k = 0; k < prices.size(); ++k) {
      row.push_back(least_beside_goods(s, range, prices[k]));
      least_beside[k] = std::min(least_beside[k], row.back());
    }
    beside.push_back(std::move(row));
  }
}

PartMenu::PartMenu(const Case& c, const PartWish& wish, std::span<const BasketSupplier> suppliers)
    : part_(&c.parts.at(static_cast<std::size_t>(wish.part))), wish_(&wish), suppliers_(suppliers) {
  if (wish.pieces < 1 || wish.alone.size() > part_->candidates.size())
    throw std::invalid_argument("a wish for a part needs pieces and no more than the part's candidates");
  flat_from_ = wish.pieces;
  for (const PartWish::Alone& alone : wish.alone) {
    flat_from_ = std::max({flat_from_, wish.pieces + static_cast<int>(alone.left_if_used.size()),
                           static_cast<int>(alone.left_if_wrong.size())});
  }
  add_uses();
  add_sources();
  for (Source& source : sources_) {
    const Keep all = [](const Lot&) { return true; };
    const bool listed =
        source.supplier[1] == kNone ? list_single(source, true, {}, all) : list_pairs(source, {}, all);
    cut_off_ = cut_off_ || !listed;
  }
  reset_tables();
}

std::size_t PartMenu::use_of(int candidate, double chance) {
  const auto index = static_cast<std::size_t>(candidate);
  if (candidate < 0 || index >= wish_->alone.size())
    throw std::invalid_argument("a hedge names a candidate that the wish does not list");
  for (std::size_t u = 0; u < uses_.size(); ++u) {
    if (uses_[u].candidate == index && uses_[u].chance == chance) return u;
  }
  uses_.push_back({index, chance, {}});
  return uses_.size() - 1;
}

void PartMenu::add_uses() {
  for (std::size_t k = 0; k < wish_->alone.size(); ++k) {
    const PartWish::Alone& alone = wish_->alone[k];
    if (!std::isfinite(alone.misfit_cost)) continue;
    modes_.push_back({{use_of(static_cast<int>(k), alone.used_chance), kNone}, alone.misfit_cost});
  }
  for (const PartWish::Hedge& hedge : wish_->hedges) {
    if (hedge.first == hedge.second) throw std::invalid_argument("a hedge needs two different candidates");
    const std::size_t first = use_of(hedge.first, hedge.first_used);
    const std::size_t second = use_of(hedge.second, hedge.second_used);
    modes_.push_back({{first, second}, hedge.misfit_cost});
  }
}

void PartMenu::add_sources() {
  for (std::size_t k = 0; k < wish_->alone.size(); ++k) {
    std::vector<std::size_t> enough;
    std::vector<std::size_t> some;
    for (const Offer& offer : candidate(k).offers) {
      const auto s = static_cast<std::size_t>(offer.supplier);
      if (!suppliers_[s].permitted) continue;
      if (least_allowed(offer, wish_->pieces)) enough.push_back(s);
      if (least_allowed(offer, 1)) some.push_back(s);
    }
    for (std::vector<std::size_t>* list : {&enough, &some}) {
      std::sort(list->begin(), list->end());
      list->erase(std::unique(list->begin(), list->end()), list->end());
    }
    for (const std::size_t s : enough) sources_.push_back({k, {s, kNone}, {}});
    if (!enough.empty()) continue;
    for (std::size_t i = 0; i < some.size(); ++i) {
      for (std::size_t j = i + 1; j < some.size(); ++j) sources_.push_back({k, {some[i], some[j]}, {}});
    }
  }
}

void PartMenu::reset_tables() {
  deals_.clear();
  tables_.clear();
  for (std::size_t u = 0; u < uses_.size(); ++u) {
    uses_[u].deals.clear();
    for (std::size_t i = 0; i < sources_.size(); ++i) {
      const Source& source = sources_[i];
      if (source.candidate != uses_[u].candidate || source.lots.empty()) continue;
      Deal deal{i, u, {}};
      for (const Lot& lot : source.lots) deal.worth.push_back(worth(uses_[u], lot.pieces));
      std::size_t cells = suppliers_[source.supplier[0]].prices.size();
      if (source.supplier[1] != kNone) cells *= suppliers_[source.supplier[1]].prices.size();
      tables_.push_back(
          {std::vector<double>(cells, std::nan("")), std::vector<std::vector<RatedLot>>(cells)});
      uses_[u].deals.push_back(deals_.size());
      deals_.push_back(std::move(deal));
    }
  }
  least_of_use_.assign(uses_.size(), kInfinite);
}

double PartMenu::worth(const Use& use, int pieces) const {
  const PartWish::Alone& alone = wish_->alone[use.candidate];
  return use.chance * at(alone.left_if_used, pieces - wish_->pieces) +
         (1 - use.chance) * at(alone.left_if_wrong, pieces);
}

// Quantities of single lines. Up to flat_from_ all that are allowed; beyond, a price segment only gets dearer, so it is
// left where `keep` says no, or where the line alone has reached every limit of its supplier.
bool PartMenu::list_single(Source& source, bool only_key, const LotLimits& limits, const Keep& keep) const {
  const BasketSupplier& seller = suppliers_[source.supplier[0]];
  source.lots.clear();
  const std::vector<Offer>& offers = candidate(source.candidate).offers;
  for (std::size_t k = 0; k < offers.size(); ++k) {
    const Offer& offer = offers[k];
    if (static_cast<std::size_t>(offer.supplier) != source.supplier[0]) continue;
    for (std::size_t j = 0; j < offer.prices.size(); ++j) {
      const int from = j == 0 ? 1 : offer.prices[j].from;
      const int to =
          j + 1 < offer.prices.size() ? offer.prices[j + 1].from - 1 : std::numeric_limits<int>::max();
      std::optional<int> quantity = least_allowed(offer, std::max(from, wish_->pieces));
      bool first = true;
      while (quantity && *quantity <= to) {
        if (source.lots.size() >= limits.lots) return false;
        Lot lot{{static_cast<int>(k), -1}, {*quantity, 0}, {line_price(offer, *quantity), 0}, *quantity};
        const bool kept = keep(lot);
        if (kept) source.lots.push_back(lot);
        const bool flat = *quantity >= flat_from_;
        const bool reached_all = offer.prices[j].each.base() <= 0 || lot.goods[0] >= seller.endless_from;
        if (flat && (!kept || reached_all || (only_key && !first))) break;
        first = false;
        if (*quantity >= to) break;
        quantity = least_allowed(offer, *quantity + 1);
      }
    }
    if (!only_key) continue;
    for (const int reaching : turning_points(offer, *seller.supplier, 0, flat_from_)) {
      source.lots.push_back(
          {{static_cast<int>(k), -1}, {reaching, 0}, {line_price(offer, reaching), 0}, reaching});
    }
  }
  return true;
}

bool PartMenu::list_pairs(Source& source, const LotLimits& limits, const Keep& keep) const {
  constexpr std::size_t kMostLooks = 1'000'000;
  const std::vector<Offer>& offers = candidate(source.candidate).offers;
  source.lots.clear();
  std::size_t looks = 0;
  for (std::size_t a = 0; a < offers.size(); ++a) {
    if (static_cast<std::size_t>(offers[a].supplier) != source.supplier[0]) continue;
    for (std::size_t b = 0; b < offers.size(); ++b) {
      if (static_cast<std::size_t>(offers[b].supplier) != source.supplier[1]) continue;
      // Neither alone can bring the pieces, so both stocks are known and small.
      for (std::optional<int> one = least_allowed(offers[a], 1); one;
           one = least_allowed(offers[a], *one + 1)) {
        const int rest = std::max(1, wish_->pieces - *one);
        for (std::optional<int> two = least_allowed(offers[b], rest); two;
             two = least_allowed(offers[b], *two + 1)) {
          if (++looks > kMostLooks || source.lots.size() >= limits.lots) return false;
          const Lot lot{{static_cast<int>(a), static_cast<int>(b)},
                        {*one, *two},
                        {line_price(offers[a], *one), line_price(offers[b], *two)},
                        *one + *two};
          if (keep(lot)) source.lots.push_back(lot);
        }
      }
    }
  }
  return true;
}

bool PartMenu::list_all(const LotLimits& limits) {
  ShadowPrices base;
  for (const BasketSupplier& s : suppliers_) {
    base.at.push_back(s.base);
    base.open.push_back(s.permitted ? 1 : 0);
  }
  const double least_of_part = least(base);
  // How much more than the part's least a use may cost, over the modes that have it.
  std::vector<double> most_of_use(uses_.size(), -kInfinite);
  for (const Mode& mode : modes_) {
    double other = least_of_part + limits.most_above_least - mode.misfit_cost;
    if (mode.use[1] == kNone) {
      most_of_use[mode.use[0]] = std::max(most_of_use[mode.use[0]], other);
      continue;
    }
    for (const std::size_t i : {0U, 1U}) {
      const double left = other - least_of_use_[mode.use[1 - i]];
      most_of_use[mode.use[i]] = std::max(most_of_use[mode.use[i]], left);
    }
  }
  bool complete = true;
  for (Source& source : sources_) {
    const Keep keep = [&](const Lot& lot) {
      const double goods = cost_at(source, lot, base);
      for (std::size_t u = 0; u < uses_.size(); ++u) {
        if (uses_[u].candidate == source.candidate && goods - worth(uses_[u], lot.pieces) <= most_of_use[u])
          return true;
      }
      return false;
    };
    const bool all = source.supplier[1] == kNone ? list_single(source, false, limits, keep)
                                                 : list_pairs(source, limits, keep);
    complete = complete && all;
  }
  reset_tables();
  return complete;
}

double PartMenu::cost_at(const Source& source, const Lot& lot, const ShadowPrices& prices) const {
  double cost = 0;
  for (const std::size_t i : {0U, 1U}) {
    const std::size_t s = source.supplier[i];
    if (s != kNone) cost += suppliers_[s].prices[prices.at[s]] * lot.goods[i];
  }
  return cost;
}

double PartMenu::floor() const {
  const int most = std::numeric_limits<int>::max();
  double least = kInfinite;
  for (const Mode& mode : modes_) {
    double cost = mode.misfit_cost;
    for (const std::size_t use : mode.use) cost -= use == kNone ? 0 : worth(uses_[use], most);
    least = std::min(least, cost);
  }
  return least;
}

std::size_t PartMenu::place(const Deal& deal, const ShadowPrices& prices) const {
  const Source& source = sources_[deal.source];
  const std::size_t first = prices.at[source.supplier[0]];
  const std::size_t s = source.supplier[1];
  return s == kNone ? first : first * suppliers_[s].prices.size() + prices.at[s];
}

bool PartMenu::is_open(std::size_t deal, const ShadowPrices& prices) const {
  const Source& source = source_of(deal);
  return prices.open[source.supplier[0]] != 0 &&
         (source.supplier[1] == kNone || prices.open[source.supplier[1]] != 0);
}

double PartMenu::least(std::size_t deal, const ShadowPrices& prices) {
  double& known = tables_[deal].least[place(deals_[deal], prices)];
  if (!std::isnan(known)) return known;
  const Source& source = source_of(deal);
  known = kInfinite;
  for (std::size_t i = 0; i < source.lots.size(); ++i)
    known = std::min(known, cost_at(source, source.lots[i], prices) - deals_[deal].worth[i]);
  return known;
}

const std::vector<RatedLot>& PartMenu::rated(std::size_t deal, const ShadowPrices& prices) {
  std::vector<RatedLot>& known = tables_[deal].rated[place(deals_[deal], prices)];
  const Source& source = source_of(deal);
  if (!known.empty() || source.lots.empty()) return known;
  for (std::size_t i = 0; i < source.lots.size(); ++i)
    known.push_back({cost_at(source, source.lots[i], prices) - deals_[deal].worth[i], i});
  std::stable_sort(known.begin(), known.end(),
                   [](const RatedLot& a, const RatedLot& b) { return a.cost < b.cost; });
  return known;
}

double PartMenu::least(const ShadowPrices& prices) {
  for (std::size_t u = 0; u < uses_.size(); ++u) {
    double& cost = least_of_use_[u];
    cost = kInfinite;
    for (const std::size_t deal : uses_[u].deals) {
      if (is_open(deal, prices)) cost = std::min(cost, least(deal, prices));
    }
  }
  double best = kInfinite;
  for (const Mode& mode : modes_) {
    const double second = mode.use[1] == kNone ? 0 : least_of_use_[mode.use[1]];
    best = std::min(best, mode.misfit_cost + least_of_use_[mode.use[0]] + second);
  }
  return best;
}

}  // namespace mendworth
