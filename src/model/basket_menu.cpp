#include "model/basket_menu.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

namespace mendworth {
namespace {

constexpr std::int64_t kStepsOfLook = 1;

double at(const WorthCurve& curve, int pieces) {
  if (curve.empty() || pieces <= 0) return 0;
  return curve[std::min(static_cast<std::size_t>(pieces), curve.size() - 1)];
}

}  // namespace

PartMenu::PartMenu(const Case& c, const PartWish& wish, std::span<const BasketSupplier> suppliers,
                   Parcel parcel, std::size_t most_looks)
    : part_(&c.parts.at(static_cast<std::size_t>(wish.part))),
      wish_(&wish),
      suppliers_(suppliers),
      parcel_(parcel) {
  if (wish.pieces < 1 || wish.alone.size() > part_->candidates.size())
    throw std::invalid_argument("a wish for a part needs pieces and no more than the part's candidates");
  flat_from_ = wish.pieces;
  const auto length = [](const WorthCurve& curve) { return std::max(0, static_cast<int>(curve.size()) - 1); };
  for (const PartWish::Alone& alone : wish.alone) {
    flat_from_ =
        std::max({flat_from_, wish.pieces + length(alone.left_if_used), length(alone.left_if_wrong)});
  }
  add_modes();
  for (std::size_t k = 0; k < wish.alone.size(); ++k) {
    const auto wanted = [&](const Use& use) { return use.candidate == k; };
    if (std::none_of(uses_.begin(), uses_.end(), wanted)) continue;
    LotLister lots = lister(k, most_looks);
    if (!lots.list_key(sources_)) cut_off_ = true;
    steps_ += kStepsOfLook * static_cast<std::int64_t>(lots.looks());
  }
}

LotLister PartMenu::lister(std::size_t candidate, std::size_t most_looks) const {
  return {
      part_->candidates[candidate], candidate, wish_->pieces, flat_from_, suppliers_, parcel_, most_looks};
}

std::size_t PartMenu::use_of(int candidate, double chance) {
  const auto index = static_cast<std::size_t>(candidate);
  if (candidate < 0 || index >= wish_->alone.size())
    throw std::invalid_argument("a hedge names a candidate that the wish does not list");
  const PartWish::Alone& alone = wish_->alone[index];
  // Where leftovers are worth nothing, the chance decides nothing.
  const bool matters = alone.left_if_used.size() > 1 || alone.left_if_wrong.size() > 1;
  for (std::size_t u = 0; u < uses_.size(); ++u) {
    if (uses_[u].candidate == index && (!matters || uses_[u].chance == chance)) return u;
  }
  uses_.push_back({index, chance});
  return uses_.size() - 1;
}

void PartMenu::add_modes() {
  for (std::size_t k = 0; k < wish_->alone.size(); ++k) {
    const PartWish::Alone& alone = wish_->alone[k];
    if (!std::isfinite(alone.misfit_cost)) continue;
    modes_.push_back({{use_of(static_cast<int>(k), alone.used_chance), kNone}, alone.misfit_cost, 0});
  }
  for (const PartWish::Hedge& hedge : wish_->hedges) {
    if (hedge.first == hedge.second) throw std::invalid_argument("a hedge needs two different candidates");
    const std::size_t first = use_of(hedge.first, hedge.first_used);
    const std::size_t second = use_of(hedge.second, hedge.second_used);
    modes_.push_back({{first, second}, hedge.misfit_cost, 0});
  }
}

double PartMenu::at_stake() const {
  double stake = 0;
  for (const Mode& mode : modes_) stake = std::max(stake, std::abs(mode.misfit_cost));
  for (const Source& source : sources_) {
    double least = not_to_be_had;
    for (std::size_t lot = 0; lot < source.lots.size(); ++lot) {
      double goods = 0;
      for (std::size_t i = 0; i < source.supplier.size(); ++i)
        goods += suppliers_[source.supplier[i]].slope * source.goods_of(lot)[i];
      least = std::min(least, goods);
    }
    if (std::isfinite(least)) stake = std::max(stake, least);
  }
  return stake;
}

void PartMenu::weigh_ties(const TieWeights& ties) {
  ties_ = ties;
  for (Mode& mode : modes_) {
    const Use& first = uses_[mode.use[0]];
    const auto rank = static_cast<double>(std::min<std::size_t>(first.candidate, 9));
    mode.beside = mode.misfit_cost + ties.candidate * rank;
  }
  // The chance of the first to try; of hedges as they say it, of others as the candidate is.
  std::size_t m = 0;
  for (const PartWish::Alone& alone : wish_->alone) {
    if (std::isfinite(alone.misfit_cost)) modes_[m++].beside += ties.misfit * (1 - alone.used_chance);
  }
  for (const PartWish::Hedge& hedge : wish_->hedges)
    modes_[m++].beside += ties.misfit * (1 - hedge.first_used);
  set_deals();
}

void PartMenu::set_deals() {
  deals_.clear();
  size_ = 0;
  for (Use& use : uses_) {
    use.deals.clear();
    for (std::size_t i = 0; i < sources_.size(); ++i) {
      const Source& source = sources_[i];
      if (source.candidate != use.candidate || source.lots.empty()) continue;
      Deal deal{i, use.chance, {}, {}, {}};
      for (const Lot& lot : source.lots) {
        double tie = ties_.piece * std::log1p(lot.pieces);
        for (const LotLine& line : lot.lines) tie += ties_.offer * std::min(line.offer, 9);
        deal.worth.push_back(worth(use, lot.pieces));
        deal.beside.push_back(tie - deal.worth.back());
      }
      set_candidates(deal);
      size_ += static_cast<std::int64_t>(deal.candidates.size());
      use.deals.push_back(deals_.size());
      deals_.push_back(std::move(deal));
    }
  }
  size_ += static_cast<std::int64_t>(modes_.size());
  least_of_deal_.assign(deals_.size(), not_to_be_had);
  least_lot_.assign(deals_.size(), 0);
  least_of_use_.assign(uses_.size(), not_to_be_had);
  least_deal_.assign(uses_.size(), kNone);
}

// Of one supplier's lots those on the lower convex hull of (goods, beside), to the left of its lowest point: prices are
// not negative.
void PartMenu::set_candidates(Deal& deal) const {
  const Source& source = sources_[deal.source];
  std::vector<std::size_t> order(source.lots.size());
  std::iota(order.begin(), order.end(), 0);
  if (source.supplier.size() != 1) {
    deal.candidates = std::move(order);
    return;
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return source.goods[a] < source.goods[b] ||
           (source.goods[a] == source.goods[b] && deal.beside[a] < deal.beside[b]);
  });
  std::vector<std::size_t>& hull = deal.candidates;
  for (const std::size_t lot : order) {
    if (!hull.empty() && deal.beside[lot] >= deal.beside[hull.back()]) continue;
    while (hull.size() > 1) {
      const std::size_t a = hull[hull.size() - 2];
      const std::size_t b = hull.back();
      const double whole = (deal.beside[lot] - deal.beside[a]) * (source.goods[b] - source.goods[a]);
      const double part = (deal.beside[b] - deal.beside[a]) * (source.goods[lot] - source.goods[a]);
      if (part < whole) break;  // b lies below the line from a to the new one
      hull.pop_back();
    }
    hull.push_back(lot);
  }
}

double PartMenu::worth(const Use& use, int pieces) const {
  const PartWish::Alone& alone = wish_->alone[use.candidate];
  return use.chance * at(alone.left_if_used, pieces - wish_->pieces) +
         (1 - use.chance) * at(alone.left_if_wrong, pieces);
}

bool PartMenu::is_open(std::size_t deal, const ShadowPrices& prices) const {
  const std::vector<std::size_t>& sellers = source_of(deal).supplier;
  return std::all_of(sellers.begin(), sellers.end(), [&](std::size_t s) { return prices.open[s] != 0; });
}

double PartMenu::cost(std::size_t deal, std::size_t lot, const ShadowPrices& prices) const {
  const Source& source = source_of(deal);
  const std::size_t width = source.supplier.size();
  double cost = deals_[deal].beside[lot];
  for (std::size_t i = 0; i < width; ++i)
    cost += prices.price[source.supplier[i]] * source.goods[lot * width + i];
  return cost;
}

Pick PartMenu::least(const ShadowPrices& prices) {
  for (std::size_t u = 0; u < uses_.size(); ++u) {
    double least_of_use = not_to_be_had;
    for (const std::size_t d : uses_[u].deals) {
      double least = not_to_be_had;
      if (is_open(d, prices)) {
        const Source& source = source_of(d);
        const Deal& deal = deals_[d];
        if (source.supplier.size() == 1) {
          const double price = prices.price[source.supplier.front()];
          for (const std::size_t lot : deal.candidates) {
            const double cost_of_lot = price * source.goods[lot] + deal.beside[lot];
            if (cost_of_lot >= least) break;  // beyond the lowest point of a convex row costs only rise
            least = cost_of_lot;
            least_lot_[d] = lot;
          }
        } else {
          for (const std::size_t lot : deal.candidates) {
            const double cost_of_lot = cost(d, lot, prices);
            if (cost_of_lot >= least) continue;
            least = cost_of_lot;
            least_lot_[d] = lot;
          }
        }
      }
      least_of_deal_[d] = least;
      if (least < least_of_use) {
        least_of_use = least;
        least_deal_[u] = d;
      }
    }
    least_of_use_[u] = least_of_use;
  }
  Pick best;
  best.cost = not_to_be_had;
  for (std::size_t m = 0; m < modes_.size(); ++m) {
    const Mode& mode = modes_[m];
    const double second = mode.use[1] == kNone ? 0 : least_of_use_[mode.use[1]];
    const double total = mode.beside + least_of_use_[mode.use[0]] + second;
    if (!(total < best.cost)) continue;
    best.cost = total;
    best.mode = m;
  }
  if (std::isinf(best.cost)) return best;
  for (const std::size_t i : {0U, 1U}) {
    const std::size_t use = modes_[best.mode].use[i];
    if (use == kNone) continue;
    best.deal[i] = least_deal_[use];
    best.lot[i] = least_lot_[best.deal[i]];
  }
  return best;
}

bool PartMenu::keep_within(const ShadowPrices& prices, double most_above) {
  const double most = least(prices).cost + most_above;
  // How much a use may cost, over the modes that have it.
  std::vector<double> most_of_use(uses_.size(), -not_to_be_had);
  for (const Mode& mode : modes_) {
    for (const std::size_t i : {0U, 1U}) {
      if (mode.use[i] == kNone) continue;
      const double other = mode.use[1 - i] == kNone ? 0 : least_of_use_[mode.use[1 - i]];
      most_of_use[mode.use[i]] = std::max(most_of_use[mode.use[i]], most - mode.beside - other);
    }
  }
  bool complete = true;
  for (Source& source : sources_) {
    const auto within = [&](double goods_cost, int pieces) {
      for (std::size_t u = 0; u < uses_.size(); ++u) {
        if (uses_[u].candidate == source.candidate && goods_cost - worth(uses_[u], pieces) <= most_of_use[u])
          return true;
      }
      return false;
    };
    const std::size_t width = source.supplier.size();
    if (width == 1) {
      const double price = prices.price[source.supplier.front()];
      const auto keep = [&](double goods, int pieces) { return within(price * goods, pieces); };
      complete = lister(source.candidate, 0).list_others(source, keep) && complete;
    }
    std::size_t kept = 0;
    for (std::size_t lot = 0; lot < source.lots.size(); ++lot) {
      double goods_cost = 0;
      for (std::size_t i = 0; i < width; ++i)
        goods_cost += prices.price[source.supplier[i]] * source.goods_of(lot)[i];
      if (!within(goods_cost, source.lots[lot].pieces)) continue;
      if (kept != lot) {
        source.lots[kept] = std::move(source.lots[lot]);
        for (std::size_t i = 0; i < width; ++i)
          source.goods[kept * width + i] = source.goods[lot * width + i];
      }
      ++kept;
    }
    source.lots.resize(kept);
    source.goods.resize(kept * width);
  }
  set_deals();
  return complete;
}

double PartMenu::floor() const {
  double least = not_to_be_had;
  for (const Mode& mode : modes_) {
    double cost = mode.misfit_cost;
    for (const std::size_t u : mode.use) {
      if (u == kNone) continue;
      double each = not_to_be_had;
      for (const Offer& offer : part_->candidates[uses_[u].candidate].offers) {
        const double slope = suppliers_[static_cast<std::size_t>(offer.supplier)].slope;
        for (const PriceBreak& step : offer.prices) each = std::min(each, slope * step.each.base());
      }
      cost += wish_->pieces * each - worth(uses_[u], std::numeric_limits<int>::max());
    }
    least = std::min(least, cost);
  }
  return least;
}

}  // namespace mendworth
