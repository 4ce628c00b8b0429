#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include "model/exact_order.hpp"

namespace mendworth {
namespace {

constexpr int kMostPieces = std::numeric_limits<int>::max();

bool exceeds(double value, double limit) { return value > limit + 1e-9 * std::max(1.0, std::abs(limit)); }

void sort_unique(std::vector<int>& values) {
  std::sort(values.begin(), values.end());
  values.erase(std::unique(values.begin(), values.end()), values.end());
}

const Candidate& candidate_of(const Case& c, const Need& need) {
  return c.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
}

// What the lines other than `line` may come to at a supplier, over the ways to divide them. Beyond some number
// of sums the rest is left out: a top-up may then be missed.
std::vector<double> possible_rests(const Case& c, std::span<const Need> needs, std::size_t line,
                                   int supplier) {
  constexpr std::size_t kMostSums = 64;
  std::vector<double> sums{0.0};
  for (std::size_t i = 0; i < needs.size(); ++i) {
    if (i == line) continue;
    std::vector<double> next;
    bool elsewhere = false;
    for (const Offer& offer : candidate_of(c, needs[i]).offers) {
      if (!is_allowed(offer, needs[i].pieces)) continue;
      if (offer.supplier != supplier) {
        elsewhere = true;
        continue;
      }
      const double price = line_price(offer, needs[i].pieces);
      for (const double sum : sums) next.push_back(sum + price);
    }
    if (elsewhere) next.insert(next.end(), sums.begin(), sums.end());
    std::sort(next.begin(), next.end());
    next.erase(std::unique(next.begin(), next.end()), next.end());
    if (next.size() > kMostSums) next.resize(kMostSums);
    sums = std::move(next);
  }
  return sums;
}

// Larger quantities of one line that cost less than every smaller one, the other lines as they are: cheaper_in_all
// without a search. `items` is left with the cheapest of them, if there is any.
std::vector<int> cheaper_beside(const Case& c, std::vector<OrderItem>& items, std::size_t line,
                                double day_cost) {
  const std::vector<Offer>& offers = candidate_of(c, items[line]).offers;
  const int pieces = items[line].quantity;
  std::vector<int> quantities = pack_quantities(candidate_of(c, items[line]), pieces);
  const std::vector<int> more = turning_points(c, items, line, pieces, Parcel::with_other_goods);
  quantities.insert(quantities.end(), more.begin(), more.end());
  sort_unique(quantities);

  OrderItem best = items[line];
  const std::optional<LandedCost> now = landed_cost(c, items, Parcel::with_other_goods);
  double least = now ? now->total + day_cost * now->wait_days : std::numeric_limits<double>::infinity();
  std::vector<int> cheaper;
  for (const int quantity : quantities) {
    if (quantity <= pieces) continue;
    items[line].quantity = quantity;
    bool found = false;
    for (std::size_t k = 0; k < offers.size(); ++k) {
      if (!is_allowed(offers[k], quantity)) continue;
      items[line].offer = static_cast<int>(k);
      const std::optional<LandedCost> cost = landed_cost(c, items, Parcel::with_other_goods);
      if (!cost || !exceeds(least, cost->total + day_cost * cost->wait_days)) continue;
      least = cost->total + day_cost * cost->wait_days;
      best = items[line];
      found = true;
    }
    if (found) cheaper.push_back(quantity);
  }
  items[line] = best;
  return cheaper;
}

// A need's goods with tax and exchange, case currency, at the offer where they come to least; infinite if
// nobody sells that many. No order costs less than the sum of these.
double least_landed_goods(const Case& c, const Need& need) {
  double least = std::numeric_limits<double>::infinity();
  for (const Offer& offer : candidate_of(c, need).offers) {
    if (!is_allowed(offer, need.pieces)) continue;
    const Supplier& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    least = std::min(least, line_price(offer, need.pieces) * landed_slope(supplier, false));
  }
  return least;
}

constexpr long kMostSteps = 2'000'000;

// An offer that can meet a need, with what it adds to the order whatever else is bought.
struct Choice {
  int offer = 0;
  std::size_t supplier = 0;
  double goods = 0;         // supplier's currency
  double landed_goods = 0;  // with tax and exchange, case currency
  double lead_days = 0;
};

// The least that shipping and customs can add at a supplier once `goods` are on the order, whatever joins
// them later: this job's share of the parcel only rises, a reached tier stays reached, and goods beyond the
// free limit stay beyond.
double least_surcharge(const Supplier& supplier, double goods) {
  const double parcel = goods + supplier.other_goods;
  if (parcel <= 0) return 0;
  const double share = goods / parcel;
  double shipping = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < supplier.shipping.size(); ++k) {
    const bool outgrown = k + 1 < supplier.shipping.size() && parcel >= supplier.shipping[k + 1].goods_from;
    if (!outgrown) shipping = std::min(shipping, supplier.shipping[k].price.base());
  }
  shipping *= share;
  double surcharge = landed_slope(supplier, false) * shipping;
  const double free_limit = supplier.duty_free_up_to.base();
  if (supplier.duty.base() > 0 && parcel > free_limit + 1e-6 * std::max(1.0, free_limit)) {
    const double customs_value = goods + (supplier.duty_on_shipping ? shipping : 0);
    const double duty = supplier.duty.base() * customs_value;
    surcharge += supplier.exchange_rate.base() *
                 (duty * (1 + supplier.tax.base()) + share * supplier.customs_fee.base());
  }
  return surcharge;
}

// Depth-first over the needs, cheapest lines first, leaving out branches that cannot beat the best order so
// far.
class OrderSearch {
 public:
  OrderSearch(const Case& c, std::span<const Need> needs, double day_cost)
      : case_(c), day_cost_(day_cost), goods_(c.suppliers.size(), 0.0), lines_(c.suppliers.size(), 0) {
    for (const Need& need : needs) {
      choices_.push_back(choices_for(need));
      items_.push_back({need.part, need.candidate, 0, need.pieces});
    }
    least_goods_after_.assign(needs.size() + 1, 0.0);
    least_days_after_.assign(needs.size() + 1, 0.0);
    for (std::size_t i = needs.size(); i-- > 0;) {
      double goods = std::numeric_limits<double>::infinity();
      double days = std::numeric_limits<double>::infinity();
      for (const Choice& choice : choices_[i]) {
        goods = std::min(goods, choice.landed_goods);
        days = std::min(days, choice.lead_days);
      }
      least_goods_after_[i] = least_goods_after_[i + 1] + goods;
      least_days_after_[i] = std::max(least_days_after_[i + 1], days);
    }
  }

  std::optional<Order> run() {
    const auto cannot_be_met = [](const std::vector<Choice>& choices) { return choices.empty(); };
    if (std::any_of(choices_.begin(), choices_.end(), cannot_be_met)) return std::nullopt;
    descend(0, 0, 0);
    if (!best_items_) return std::nullopt;
    const std::optional<LandedCost> cost = landed_cost(case_, *best_items_, Parcel::with_other_goods);
    if (!cost) return std::nullopt;
    return Order{*best_items_, *cost, steps_ > kMostSteps};
  }

 private:
  std::vector<Choice> choices_for(const Need& need) const {
    const Candidate& candidate =
        case_.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
    std::vector<Choice> choices;
    for (std::size_t k = 0; k < candidate.offers.size(); ++k) {
      const Offer& offer = candidate.offers[k];
      if (!is_allowed(offer, need.pieces)) continue;
      Choice choice;
      choice.offer = static_cast<int>(k);
      choice.supplier = static_cast<std::size_t>(offer.supplier);
      const Supplier& supplier = case_.suppliers[choice.supplier];
      choice.goods = line_price(offer, need.pieces);
      choice.landed_goods = landed_slope(supplier, false) * choice.goods;
      choice.lead_days = supplier.lead_days.base();
      choices.push_back(choice);
    }
    std::stable_sort(choices.begin(), choices.end(),
                     [](const Choice& a, const Choice& b) { return a.landed_goods < b.landed_goods; });
    return choices;
  }

  double bound(std::size_t next_need, double landed_goods, double days) const {
    double cost = landed_goods + least_goods_after_[next_need] +
                  day_cost_ * std::max(days, least_days_after_[next_need]);
    for (std::size_t s = 0; s < goods_.size(); ++s) {
      if (goods_[s] > 0) cost += least_surcharge(case_.suppliers[s], goods_[s]);
    }
    return cost;
  }

  bool beats_best(double cost) const {
    return !best_items_ || cost < best_cost_ - 1e-10 * std::max(1.0, std::abs(best_cost_));
  }

  void price_order(double days) {
    double cost = day_cost_ * days;
    for (std::size_t s = 0; s < goods_.size(); ++s) {
      if (lines_[s] == 0) continue;
      const std::optional<LandedCost> landed =
          supplier_cost(case_.suppliers[s], goods_[s], Parcel::with_other_goods);
      if (!landed) return;
      cost += landed->total;
    }
    if (!beats_best(cost)) return;
    best_items_ = items_;
    best_cost_ = cost;
  }

  void descend(std::size_t i, double landed_goods, double days) {
    if (++steps_ > kMostSteps || !beats_best(bound(i, landed_goods, days))) return;
    if (i == choices_.size()) {
      price_order(days);
      return;
    }
    for (const Choice& choice : choices_[i]) {
      const double before = goods_[choice.supplier];
      goods_[choice.supplier] = before + choice.goods;
      ++lines_[choice.supplier];
      items_[i].offer = choice.offer;
      descend(i + 1, landed_goods + choice.landed_goods, std::max(days, choice.lead_days));
      --lines_[choice.supplier];
      goods_[choice.supplier] = before;
    }
  }

  const Case& case_;
  double day_cost_;
  std::vector<double> goods_;                 // by supplier, its currency
  std::vector<int> lines_;                    // by supplier
  std::vector<std::vector<Choice>> choices_;  // by need
  std::vector<double> least_goods_after_;     // of the needs from here on
  std::vector<double> least_days_after_;
  std::vector<OrderItem> items_;
  std::optional<std::vector<OrderItem>> best_items_;
  double best_cost_ = 0;
  long steps_ = 0;
};

}  // namespace

std::optional<Order> exact_order(const Case& c, std::span<const Need> needs, double day_cost) {
  return OrderSearch(c, needs, day_cost).run();
}

std::vector<int> cheaper_in_all(const Case& c, std::span<const Need> needs, std::size_t line,
                                double day_cost) {
  if (needs.size() > most_lines_divided_anew) {
    std::optional<Order> order = exact_order(c, needs, day_cost);
    return order ? cheaper_beside(c, order->items, line, day_cost) : std::vector<int>{};
  }
  const int pieces = needs[line].pieces;
  const Candidate& bought = candidate_of(c, needs[line]);
  std::vector<int> quantities = pack_quantities(bought, pieces);
  for (const Offer& offer : bought.offers) {
    const Supplier& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    for (const double rest : possible_rests(c, needs, line, offer.supplier)) {
      const std::vector<int> more = turning_points(offer, supplier, rest, pieces, Parcel::with_other_goods);
      quantities.insert(quantities.end(), more.begin(), more.end());
    }
  }
  sort_unique(quantities);

  std::vector<Need> order(needs.begin(), needs.end());
  double rest_at_least = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    if (i != line) rest_at_least += least_landed_goods(c, order[i]);
  }
  double least = std::numeric_limits<double>::infinity();
  std::vector<int> cheaper;
  const auto costs_less_with = [&](int quantity) {
    order[line].pieces = quantity;
    // Most large quantities are ruled out by the price of their goods alone.
    if (!exceeds(least, rest_at_least + least_landed_goods(c, order[line]))) return false;
    const std::optional<Order> found = exact_order(c, order, day_cost);
    if (!found) return false;
    const double cost = found->cost.total + day_cost * found->cost.wait_days;
    if (!exceeds(least, cost)) return false;
    least = cost;
    return true;
  };
  costs_less_with(pieces);
  for (const int quantity : quantities) {
    if (quantity > pieces && costs_less_with(quantity)) cheaper.push_back(quantity);
  }
  return cheaper;
}

std::vector<Need> enlarged(const Case& c, std::vector<Need> needs, double day_cost) {
  // Every step costs less than the one before, so that this comes to an end.
  if (needs.size() > most_lines_divided_anew) {
    std::optional<Order> order = exact_order(c, needs, day_cost);
    for (bool again = order.has_value(); again;) {
      again = false;
      for (std::size_t i = 0; i < needs.size(); ++i) {
        if (cheaper_beside(c, order->items, i, day_cost).empty()) continue;
        needs[i].pieces = order->items[i].quantity;
        again = true;
      }
    }
    return needs;
  }
  for (bool again = true; again;) {
    again = false;
    for (std::size_t i = 0; i < needs.size(); ++i) {
      const std::vector<int> cheaper = cheaper_in_all(c, needs, i, day_cost);
      if (cheaper.empty()) continue;
      needs[i].pieces = cheaper.back();
      again = needs.size() > 1;
    }
  }
  return needs;
}

std::vector<int> stocking_quantities(const Candidate& candidate, int need, int least_spares, int limit) {
  std::vector<int> chosen;
  const auto keep = [&](const std::vector<int>& quantities) {
    for (const int quantity : quantities) {
      const bool known = std::find(chosen.begin(), chosen.end(), quantity) != chosen.end();
      if (!known && static_cast<std::int64_t>(chosen.size()) < limit) chosen.push_back(quantity);
    }
  };
  const auto keep_spares = [&](int spares) {
    if (spares >= least_spares && need <= kMostPieces - spares)
      keep(pack_quantities(candidate, need + spares));
  };
  const auto keep_breaks = [&](int which) {
    std::vector<int> breaks;
    for (const Offer& offer : candidate.offers) {
      const std::optional<int> pack = least_allowed(offer, need);
      int seen = 0;
      for (const PriceBreak& next : offer.prices) {
        if (!pack || next.from <= *pack || seen++ != which || next.from - need < least_spares) continue;
        if (const std::optional<int> quantity = least_allowed(offer, next.from)) breaks.push_back(*quantity);
      }
    }
    sort_unique(breaks);
    keep(breaks);
  };
  keep_spares(0);
  keep_spares(1);
  keep_breaks(0);
  for (const int spares : {2, 3, 5, 8}) keep_spares(spares);
  keep_breaks(1);
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

}  // namespace mendworth
