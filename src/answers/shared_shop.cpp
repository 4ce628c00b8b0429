#include "answers/shared_shop.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <span>

#include "answers/drawer_offers.hpp"
#include "mendworth/diagnostic.hpp"
#include "model/parcel_ranges.hpp"

namespace mendworth {
namespace {

double at(const WorthCurve& curve, std::size_t pieces) {
  return curve.empty() ? 0.0 : curve[std::min(pieces, curve.size() - 1)];
}

/// What the pieces are worth to a job beyond what others would make of them; never falls.
WorthCurve own_worth(const SpareWorth::OfCandidate& worth) {
  WorthCurve own{0.0};
  const std::size_t length = std::max(worth.if_used.size(), worth.elsewhere.size());
  for (std::size_t k = 1; k < length; ++k)
    own.push_back(std::max(own.back(), at(worth.if_used, k) - at(worth.elsewhere, k)));
  return own;
}

bool same_terms(const Supplier& a, const Supplier& b) {
  const auto same_tier = [](const ShippingTier& x, const ShippingTier& y) {
    return x.goods_from == y.goods_from && x.price == y.price;
  };
  return a.currency == b.currency && a.exchange_rate == b.exchange_rate && a.exchange_fee == b.exchange_fee &&
         std::equal(a.shipping.begin(), a.shipping.end(), b.shipping.begin(), b.shipping.end(), same_tier) &&
         a.low_order_below == b.low_order_below && a.low_order_fee == b.low_order_fee &&
         a.refuses_low_orders == b.refuses_low_orders && a.tax == b.tax && a.duty == b.duty &&
         a.duty_free_up_to == b.duty_free_up_to && a.duty_on_shipping == b.duty_on_shipping &&
         a.customs_fee == b.customs_fee && a.lead_days == b.lead_days && a.other_goods == b.other_goods;
}

/// But for the supplier, which is known to be the same.
bool same_offer(const Offer& a, const Offer& b) {
  const auto same_break = [](const PriceBreak& x, const PriceBreak& y) {
    return x.from == y.from && x.each == y.each;
  };
  return std::equal(a.prices.begin(), a.prices.end(), b.prices.begin(), b.prices.end(), same_break) &&
         a.least == b.least && a.multiple == b.multiple && a.stock == b.stock && a.line_fee == b.line_fee;
}

[[noreturn]] void contradict(const std::string& file, const std::string& message) {
  throw InputError({{file, 0, 0, "", message, "jobs of one order need the same terms"}});
}

}  // namespace

WorthCurve shared_worth(const std::vector<SpareWorth::OfCandidate>& worths) {
  if (worths.size() == 1) return worths.front().if_used;
  // Every piece goes where it adds most: the curves of own worth are made concave first.
  std::vector<double> steps;
  std::size_t length = 1;
  double most = 0;
  for (const SpareWorth::OfCandidate& worth : worths) {
    const WorthCurve own = levelled(own_worth(worth), 0.0, std::numeric_limits<double>::infinity());
    for (std::size_t k = 1; k < own.size(); ++k) {
      if (own[k] > own[k - 1]) steps.push_back(own[k] - own[k - 1]);
    }
    length = std::max(length, worth.elsewhere.size());
    most = std::max({most, worth.small_order, worth.resale});
  }
  std::sort(steps.begin(), steps.end(), std::greater<>());
  length = std::max(length, steps.size() + 1);
  WorthCurve curve{0.0};
  double own = 0;
  double elsewhere = 0;
  for (std::size_t k = 1; k < length; ++k) {
    if (k <= steps.size()) own += steps[k - 1];
    for (const SpareWorth::OfCandidate& worth : worths) {
      elsewhere = std::max(elsewhere, at(worth.elsewhere, k));
      const double step = at(worth.if_used, k) - at(worth.if_used, k - 1);
      most = std::max(most, step);
    }
    curve.push_back(own + elsewhere);
  }
  return levelled(curve, 0.0, most);
}

SharedShop::SharedShop(const std::vector<OrderJob>& jobs) : jobs_(jobs) {
  shop_ = *jobs.front().c;
  shop_.suppliers.clear();
  shop_.parts.clear();
  shop_.positions.clear();
  shop_.what_ifs.clear();
  for (const OrderJob& job : jobs) {
    for (std::size_t s = 0; s < job.c->suppliers.size(); ++s) (void)supplier_of(*job.c, static_cast<int>(s));
    part_wish_.emplace_back();
    for (const WishedPart& wished : job.wished)
      part_wish_.back().push_back(part_of(*job.c, wished.wish.part));
  }
  note_apart();
}

bool SharedShop::same_part(const Part& a, const Part& b) {
  return a.name == b.name &&
         std::equal(a.candidates.begin(), a.candidates.end(), b.candidates.begin(), b.candidates.end(),
                    [](const Candidate& x, const Candidate& y) { return x.name == y.name; });
}

std::size_t SharedShop::supplier_of(const Case& c, int index) {
  const Supplier& stated = c.suppliers[static_cast<std::size_t>(index)];
  for (std::size_t s = 0; s < shop_.suppliers.size(); ++s) {
    if (shop_.suppliers[s].name != stated.name) continue;
    if (!same_terms(shop_.suppliers[s], stated)) {
      contradict(c.source_name,
                 fmt::format("the supplier '{}' is stated otherwise than in {}", stated.name, stated_by_[s]));
    }
    return s;
  }
  shop_.suppliers.push_back(stated);
  stated_by_.push_back(c.source_name);
  return shop_.suppliers.size() - 1;
}

std::size_t SharedShop::part_of(const Case& c, int index) {
  Part stated = c.parts[static_cast<std::size_t>(index)];
  for (Candidate& candidate : stated.candidates) {
    for (Offer& offer : candidate.offers) offer.supplier = static_cast<int>(supplier_of(c, offer.supplier));
  }
  for (std::size_t p = 0; p < shop_.parts.size(); ++p) {
    Part& known = shop_.parts[p];
    if (!same_part(known, stated)) continue;
    for (std::size_t k = 0; k < known.candidates.size(); ++k)
      pool(known.candidates[k], stated.candidates[k], c, part_from_[p]);
    return p;
  }
  shop_.parts.push_back(std::move(stated));
  part_from_.push_back(c.source_name);
  return shop_.parts.size() - 1;
}

void SharedShop::pool(Candidate& known, const Candidate& more, const Case& c, const std::string& part) {
  known.on_hand = std::max(known.on_hand, more.on_hand);
  const auto offers_of = [](const Candidate& candidate, int supplier) {
    std::vector<Offer> offers;
    for (const Offer& offer : candidate.offers) {
      if (offer.supplier == supplier) offers.push_back(offer);
    }
    return offers;
  };
  for (std::size_t s = 0; s < shop_.suppliers.size(); ++s) {
    const std::vector<Offer> before = offers_of(known, static_cast<int>(s));
    const std::vector<Offer> now = offers_of(more, static_cast<int>(s));
    if (before.empty()) known.offers.insert(known.offers.end(), now.begin(), now.end());
    if (before.empty() || now.empty() ||
        std::equal(before.begin(), before.end(), now.begin(), now.end(), same_offer))
      continue;
    contradict(c.source_name, fmt::format("what '{}' asks for '{}' is stated otherwise than in {}",
                                          shop_.suppliers[s].name, more.name, part));
  }
}

// What is bought in two lines although it has one name.
void SharedShop::note_apart() {
  for (std::size_t p = 0; p < shop_.parts.size(); ++p) {
    for (std::size_t q = 0; q < p; ++q) {
      for (const Candidate& candidate : shop_.parts[p].candidates) {
        const auto& others = shop_.parts[q].candidates;
        const bool twice = std::any_of(others.begin(), others.end(),
                                       [&](const Candidate& other) { return other.name == candidate.name; });
        if (!twice) continue;
        notes_.push_back(
            fmt::format("'{}' is bought for {} and for {} in two lines, which share no price break: their "
                        "parts differ in "
                        "name or in their candidates.",
                        candidate.name, part_from_[q], part_from_[p]));
      }
    }
  }
}

const WishedPart* SharedShop::wish_of(std::size_t job, std::size_t part) const {
  for (std::size_t w = 0; w < part_wish_[job].size(); ++w) {
    if (part_wish_[job][w] == part) return &jobs_[job].wished[w];
  }
  return nullptr;
}

// Misfits are those of each job; what is left over serves all.
WishedPart SharedShop::joined(std::size_t part, const std::vector<std::size_t>& jobs) const {
  WishedPart sum = *wish_of(jobs.front(), part);
  sum.wish.part = static_cast<int>(part);
  for (const std::size_t j : jobs) {
    sum.wish.waiting.push_back({static_cast<int>(j), jobs_[j].c->downtime.per_day.base()});
  }
  if (jobs.size() == 1) return sum;
  std::size_t tried = sum.wish.alone.size();
  double pieces = 0;
  for (const std::size_t j : jobs) {
    const PartWish& wish = wish_of(j, part)->wish;
    tried = std::min(tried, wish.alone.size());
    pieces += wish.pieces;
  }
  const auto hedge_of = [](const PartWish& wish, int first, int second) {
    return std::find_if(wish.hedges.begin(), wish.hedges.end(), [&](const PartWish::Hedge& hedge) {
      return hedge.first == first && hedge.second == second;
    });
  };
  PartWish wish{.part = sum.wish.part, .pieces = static_cast<int>(pieces)};
  wish.waiting = sum.wish.waiting;
  std::vector<PartWish::Hedge> hedges;
  for (const std::size_t j : jobs) {
    for (const PartWish::Hedge& hedge : wish_of(j, part)->wish.hedges) {
      if (hedge_of(wish, hedge.first, hedge.second) == wish.hedges.end())
        wish.hedges.push_back({hedge.first, hedge.second, 0, 0, 0});
    }
  }
  std::erase_if(wish.hedges, [&](const PartWish::Hedge& hedge) {
    return static_cast<std::size_t>(std::max(hedge.first, hedge.second)) >= tried;
  });
  // A fixed order, whichever job names a hedge first.
  std::sort(wish.hedges.begin(), wish.hedges.end(), [](const PartWish::Hedge& a, const PartWish::Hedge& b) {
    return a.first < b.first || (a.first == b.first && a.second < b.second);
  });
  for (std::size_t k = 0; k < tried; ++k) {
    PartWish::Alone alone{.misfit_cost = 0, .used_chance = 0};
    std::vector<SpareWorth::OfCandidate> worths;
    WorthCurve elsewhere{0.0};
    for (const std::size_t j : jobs) {
      const WishedPart& one = *wish_of(j, part);
      alone.misfit_cost += one.wish.alone[k].misfit_cost;
      alone.used_chance += one.wish.alone[k].used_chance * one.wish.pieces / pieces;
      worths.push_back(one.spares.candidates[k]);
      const WorthCurve& curve = worths.back().elsewhere;
      for (std::size_t n = elsewhere.size(); n < curve.size(); ++n) elsewhere.push_back(elsewhere.back());
      for (std::size_t n = 0; n < elsewhere.size(); ++n) elsewhere[n] = std::max(elsewhere[n], at(curve, n));
    }
    alone.left_if_used = shared_worth(worths);
    wish.alone.push_back(std::move(alone));
    SpareWorth::OfCandidate& spares = sum.spares.candidates[k];
    spares.if_used = wish.alone.back().left_if_used;
    spares.elsewhere = levelled(elsewhere, 0.0, std::numeric_limits<double>::infinity());
  }
  for (PartWish::Hedge& hedge : wish.hedges) {
    for (const std::size_t j : jobs) {
      const PartWish& one = wish_of(j, part)->wish;
      const double share = one.pieces / pieces;
      const auto own = hedge_of(one, hedge.first, hedge.second);
      const PartWish::Alone& first = one.alone[static_cast<std::size_t>(hedge.first)];
      // A job that the second candidate cannot help.
      const bool none = own == one.hedges.end();
      hedge.misfit_cost += none ? first.misfit_cost : own->misfit_cost;
      hedge.first_used += share * (none ? first.used_chance : own->first_used);
      hedge.second_used += share * (none ? 0.0 : own->second_used);
    }
  }
  sum.wish = std::move(wish);
  return sum;
}

double SharedShop::age_loss_of(std::size_t job, std::size_t wish, double share,
                               const Stripping::Good& good) const {
  const auto [known, is_new] =
      losses_.try_emplace({job, wish, share, good.age, good.law.scale, good.law.shape}, 0.0);
  if (is_new) known->second = age_loss(jobs_[job], wish, share, good);
  return known->second;
}

// Pieces go where their age costs least.
std::vector<PriceBreak> SharedShop::ladder_of(const Stripping::Good& good, const Wanted& wanted,
                                              std::size_t part) const {
  std::vector<double> losses;
  for (const std::size_t j : wanted.jobs) {
    for (std::size_t w = 0; w < part_wish_[j].size(); ++w) {
      if (part_wish_[j][w] != part) continue;
      for (const double share : jobs_[j].places[w].shares) losses.push_back(age_loss_of(j, w, share, good));
    }
  }
  std::sort(losses.begin(), losses.end());
  std::vector<PriceBreak> prices;
  double together = 0;
  for (int n = 1; n <= std::min(good.pieces, static_cast<int>(losses.size())); ++n) {
    together += good.take_out + losses[static_cast<std::size_t>(n - 1)];
    prices.push_back({.from = n, .each = Quantity::exactly(together / n)});
  }
  return prices;
}

// Those that have pieces that are wanted, in the order of the jobs.
std::vector<std::size_t> SharedShop::to_strip(Search& search, const std::vector<char>& chosen) const {
  std::vector<std::pair<double, std::size_t>> by_work;
  for (std::size_t j = 0; j < jobs_.size(); ++j) {
    const auto& stripping = jobs_[j].stripping;
    if (chosen[j] != 0 || !stripping) continue;
    double work = stripping->opening;
    int pieces = 0;
    for (const Stripping::Good& good : stripping->goods) {
      const auto& part = jobs_[j].c->parts[static_cast<std::size_t>(good.part)];
      const bool is_wanted =
          std::any_of(search.wished.begin(), search.wished.end(), [&](const WishedPart& wished) {
            return shop_.parts[static_cast<std::size_t>(wished.wish.part)].name == part.name;
          });
      if (!is_wanted) continue;
      work += good.pieces * good.take_out;
      pieces += good.pieces;
    }
    if (pieces > 0) by_work.emplace_back(work / pieces, j);
  }
  search.any_left_out = by_work.size() > most_stripped;
  if (search.any_left_out) {
    std::sort(by_work.begin(), by_work.end());
    by_work.resize(most_stripped);
  }
  std::vector<std::size_t> devices;
  for (const auto& [work, job] : by_work) devices.push_back(job);
  std::sort(devices.begin(), devices.end());
  return devices;
}

// Opening a device is what it asks for the parcel.
void SharedShop::offer_stripped(Search& search, Case& shop, const std::vector<char>& chosen) const {
  for (const std::size_t j : to_strip(search, chosen)) {
    const auto& stripping = jobs_[j].stripping;
    bool any = false;
    for (const Stripping::Good& good : stripping->goods) {
      for (std::size_t i = 0; i < search.wanted.size(); ++i) {
        const auto part = static_cast<std::size_t>(search.wished[i].wish.part);
        if (shop.parts[part].name != jobs_[j].c->parts[static_cast<std::size_t>(good.part)].name) continue;
        Offer offer;
        offer.supplier = static_cast<int>(shop.suppliers.size());
        offer.prices = ladder_of(good, search.wanted[i], part);
        if (offer.prices.empty()) continue;
        offer.stock = offer.prices.back().from;
        for (Candidate& candidate : shop.parts[part].candidates) candidate.offers.push_back(offer);
        any = true;
      }
    }
    if (!any) continue;
    Supplier device;
    device.name = jobs_[j].c->device.name;
    device.currency = shop.device.currency;
    device.exchange_rate = Quantity::exactly(1.0);
    device.shipping.push_back({.goods_from = 0, .price = Quantity::exactly(stripping->opening)});
    shop.suppliers.push_back(std::move(device));
    search.stripped.push_back(j);
  }
}

SharedShop::Search SharedShop::search(const std::vector<char>& chosen, const Effort& effort) const {
  Search result;
  for (std::size_t p = 0; p < shop_.parts.size(); ++p) {
    Wanted wanted;
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      const WishedPart* wished = chosen[j] != 0 ? wish_of(j, p) : nullptr;
      if (wished == nullptr) continue;
      wanted.jobs.push_back(j);
      wanted.pieces.push_back(wished->wish.pieces);
    }
    if (wanted.jobs.empty()) continue;
    result.wished.push_back(joined(p, wanted.jobs));
    result.wanted.push_back(std::move(wanted));
  }
  Case shop = shop_;
  result.suppliers = shop.suppliers.size();
  offer_stripped(result, shop, chosen);
  result.shop = with_drawer_offers(shop, result.wished);
  std::vector<PartWish> wishes;
  for (const WishedPart& part : result.wished) wishes.push_back(part.wish);
  BasketLimits limits;
  limits.most_steps = effort.most_steps;
  limits.most_looks = effort.most_looks;
  if (!wishes.empty()) result.baskets = best_baskets(result.shop, wishes, 0, limits, 1);
  return result;
}

double SharedShop::least_goods(const WishedPart& wished, std::size_t part, unsigned suppliers) const {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  const std::vector<Candidate>& candidates = shop_.parts[part].candidates;
  std::vector<double> goods;
  for (std::size_t k = 0; k < wished.wish.alone.size(); ++k) {
    double each = candidates[k].on_hand > 0 ? 0.0 : infinite;
    for (const Offer& offer : candidates[k].offers) {
      if ((suppliers >> static_cast<unsigned>(offer.supplier) & 1U) == 0) continue;
      const double slope = landed_slope(shop_.suppliers[static_cast<std::size_t>(offer.supplier)], false);
      for (const PriceBreak& step : offer.prices) each = std::min(each, slope * step.each.base());
    }
    for (std::size_t j = 0; j < jobs_.size(); ++j) {
      const auto& stripping = jobs_[j].stripping;
      if (!stripping) continue;
      // Its opening is shared by all its pieces at the most.
      int pieces = 0;
      for (const Stripping::Good& good : stripping->goods) pieces += good.pieces;
      for (const Stripping::Good& good : stripping->goods) {
        if (jobs_[j].c->parts[static_cast<std::size_t>(good.part)].name == shop_.parts[part].name)
          each = std::min(each, good.take_out + std::max(0.0, stripping->opening) / pieces);
      }
    }
    const SpareWorth::OfCandidate& worth = wished.spares.candidates[k];
    const double left = std::max(at(worth.if_used, worth.if_used.size()),
                                 at(worth.elsewhere, worth.elsewhere.size()) + own_worth(worth).back());
    goods.push_back(wished.wish.pieces * each - left);
  }
  double least = infinite;
  for (std::size_t k = 0; k < goods.size(); ++k)
    least = std::min(least, goods[k] + wished.wish.alone[k].misfit_cost);
  for (const PartWish::Hedge& hedge : wished.wish.hedges) {
    least = std::min(least, hedge.misfit_cost + goods[static_cast<std::size_t>(hedge.first)] +
                                goods[static_cast<std::size_t>(hedge.second)]);
  }
  return least;
}

double SharedShop::least_cost(std::size_t job, unsigned suppliers) const {
  double cost = 0;
  for (std::size_t w = 0; w < part_wish_[job].size(); ++w)
    cost += least_goods(jobs_[job].wished[w], part_wish_[job][w], suppliers);
  return cost;
}

double SharedShop::least_parcel(std::size_t supplier, const std::vector<char>& chosen) const {
  const Supplier& s = shop_.suppliers[supplier];
  // Goods that all these jobs need at its lowest prices: beyond them goods are bought for the parcel's sake, and cost.
  double most = 0;
  for (std::size_t j = 0; j < jobs_.size(); ++j) {
    for (std::size_t w = 0; chosen[j] != 0 && w < part_wish_[j].size(); ++w) {
      double dearest = 0;
      for (const Candidate& candidate : shop_.parts[part_wish_[j][w]].candidates) {
        double each = std::numeric_limits<double>::infinity();
        for (const Offer& offer : candidate.offers) {
          for (const PriceBreak& step : offer.prices) {
            if (offer.supplier == static_cast<int>(supplier)) each = std::min(each, step.each.base());
          }
        }
        if (std::isfinite(each)) dearest += each;  // two candidates of a hedge at the most, or any one
      }
      most += dearest * jobs_[j].wished[w].wish.pieces;
    }
  }
  const double slope = landed_slope(s, false);
  double least = std::numeric_limits<double>::infinity();
  for (const ParcelRange& range : parcel_ranges(s, Parcel::with_other_goods)) {
    for (const double goods : {range.from, range.to, most}) {
      if (!(goods >= range.from && goods <= range.to) || !std::isfinite(goods)) continue;
      const double cost = cost_on_terms(s, range.terms, goods, Parcel::with_other_goods).total;
      least = std::min(least, cost - slope * std::min(goods, most));
    }
  }
  return std::isfinite(least) ? std::max(0.0, least) : 0.0;
}

}  // namespace mendworth
