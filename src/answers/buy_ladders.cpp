#include "answers/buy_ladders.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>

#include "base/plain_number.hpp"

namespace mendworth {
namespace {

constexpr int most_spare_rows = 8;
constexpr int most_ladder_rows = 16;
constexpr int steps_near_need = 3;

const WishedPart& wished_part(const std::vector<WishedPart>& wished, int part) {
  return *std::find_if(wished.begin(), wished.end(),
                       [part](const WishedPart& w) { return w.wish.part == part; });
}

const SpareWorth::OfCandidate& worth_of(const std::vector<WishedPart>& wished, const OrderItem& item) {
  return wished_part(wished, item.part).spares.candidates[static_cast<std::size_t>(item.candidate)];
}

double at(const std::vector<double>& curve, int k) {
  if (curve.empty() || k <= 0) return 0;
  return curve[std::min(static_cast<std::size_t>(k), curve.size() - 1)];
}

// Whether the line is the only one of its part, and of its supplier's parcel for it: then its quantity is free.
bool stands_alone(const Basket& basket, std::size_t line) {
  return std::count_if(basket.items.begin(), basket.items.end(), [&](const OrderItem& item) {
           return item.part == basket.items[line].part && item.candidate == basket.items[line].candidate;
         }) == 1;
}

std::vector<int> quantities_shown(const Case& c, const Basket& best, std::size_t line, int need) {
  const OrderItem& item = best.items[line];
  const Candidate& bought = candidate_of(c, item);
  std::vector<int> first = pack_quantities(bought, need);
  first.push_back(item.quantity);
  for (int more = 1; more <= steps_near_need; ++more) {
    const auto packs = pack_quantities(bought, need + more);
    first.insert(first.end(), packs.begin(), packs.end());
  }
  const auto topped_up = top_ups(c, best.items, line);
  first.insert(first.end(), topped_up.begin(), topped_up.end());
  std::vector<int> breaks;
  for (const Offer& offer : bought.offers) {
    for (const PriceBreak& step : offer.prices) {
      if (step.from <= need) continue;
      if (const auto quantity = least_allowed(offer, step.from)) breaks.push_back(*quantity);
    }
  }
  std::sort(breaks.begin(), breaks.end());
  std::vector<int> shown;
  for (const auto* some : {&first, &breaks}) {
    for (const int quantity : *some) {
      const bool known = std::find(shown.begin(), shown.end(), quantity) != shown.end();
      if (!known && static_cast<int>(shown.size()) < most_ladder_rows) shown.push_back(quantity);
    }
  }
  std::sort(shown.begin(), shown.end());
  return shown;
}

Ladder ladder_of(const Case& c, const std::vector<WishedPart>& wished, const Basket& best, std::size_t line) {
  const OrderItem& chosen = best.items[line];
  const WishedPart& part = wished_part(wished, chosen.part);
  const auto& worth = worth_of(wished, chosen);
  const int need = part.wish.pieces;
  const double day = c.downtime.per_day.base();
  const double used_chance = part.wish.alone[static_cast<std::size_t>(chosen.candidate)].used_chance;
  const auto worth_left = [&](int quantity) { return used_chance * at(worth.if_used, quantity - need); };
  std::vector<OrderItem> items = best.items;
  items[line].quantity = 0;
  const auto rest = landed_cost(c, items);
  const double rest_total = rest ? rest->total : 0.0;
  const double rest_net = best.misfit_cost - best.leftover_worth + worth_left(chosen.quantity);

  Ladder ladder{.part = c.parts[static_cast<std::size_t>(chosen.part)].name,
                .candidate = candidate_of(c, chosen).name,
                .needed = need};
  double least_landed = std::numeric_limits<double>::infinity();
  int least_quantity = 0;
  for (const int quantity : quantities_shown(c, best, line, need)) {
    std::optional<LadderRow> row;
    for (std::size_t k = 0; k < candidate_of(c, chosen).offers.size(); ++k) {
      const Offer& offer = candidate_of(c, chosen).offers[k];
      const bool is_chosen = quantity == chosen.quantity && static_cast<int>(k) == chosen.offer;
      if (!is_allowed(offer, quantity)) continue;
      items[line].offer = static_cast<int>(k);
      items[line].quantity = quantity;
      const auto landed = landed_cost(c, items);
      if (!landed) continue;
      const double worth_here = worth_left(quantity);
      const double net = landed->total + day * landed->wait_days + rest_net - worth_here;
      if (row && !is_chosen && (row->chosen || net >= row->net)) continue;
      const Supplier& from = supplier_of(c, items[line]);
      row = LadderRow{.quantity = quantity,
                      .supplier = from.name,
                      .supplier_currency = from.currency,
                      .each = unit_price(offer, quantity),
                      .line = line_price(offer, quantity),
                      .landed = landed->total,
                      .landed_each = (landed->total - rest_total) / quantity,
                      .left_over = quantity - need,
                      .used = used_chance * at(worth.used, quantity - need),
                      .worth = worth_here,
                      .net = net,
                      .chosen = is_chosen};
    }
    if (!row) continue;
    const double half_unit = 0.5 * std::pow(10.0, -c.device.minor_digits);
    if (row->landed < least_landed - half_unit) {
      if (least_quantity > 0) row->remark = fmt::format("costs less than {}", least_quantity);
      least_landed = row->landed;
    }
    least_quantity = row->landed <= least_landed ? row->quantity : least_quantity;
    ladder.rows.push_back(std::move(*row));
  }
  return ladder;
}

/// The least that at least `pieces` pieces cost from one supplier alone, waiting included; infinite: not to be had.
double least_from(const Case& c, const Candidate& candidate, int supplier, int pieces) {
  double least = std::numeric_limits<double>::infinity();
  const Supplier& from = c.suppliers[static_cast<std::size_t>(supplier)];
  for (const Offer& offer : candidate.offers) {
    if (offer.supplier != supplier) continue;
    const auto pack = least_allowed(offer, pieces);
    if (!pack) continue;
    std::vector<int> quantities = turning_points(offer, from, 0.0, *pack);
    quantities.push_back(*pack);
    for (const int quantity : quantities) {
      const auto landed = supplier_cost(from, line_price(offer, quantity));
      if (landed) least = std::min(least, landed->total + landed->wait_days * c.downtime.per_day.base());
    }
  }
  return least;
}

// Where the cheapest supplier may change: steps of a fixed grid, refined by halving between two that differ.
SupplierComparison compare_suppliers(const Case& c, const OrderItem& bought) {
  constexpr int most_compared = 10'000;
  const Candidate& candidate = candidate_of(c, bought);
  std::vector<int> suppliers;
  for (const Offer& offer : candidate.offers) {
    if (std::find(suppliers.begin(), suppliers.end(), offer.supplier) == suppliers.end())
      suppliers.push_back(offer.supplier);
  }
  SupplierComparison comparison{.part = c.parts[static_cast<std::size_t>(bought.part)].name,
                                .candidate = candidate.name};
  if (suppliers.size() < 2) return comparison;
  const auto cheapest = [&](int pieces) {
    int best = -1;
    double least = std::numeric_limits<double>::infinity();
    for (const int s : suppliers) {
      const double cost = least_from(c, candidate, s, pieces);
      if (cost < least - 1e-9) {
        least = cost;
        best = s;
      }
    }
    return best;
  };
  int last = cheapest(1);
  const auto begin_range = [&](int pieces, int supplier) {
    if (supplier < 0) return;
    const double cost = least_from(c, candidate, supplier, pieces);
    const Supplier& from = c.suppliers[static_cast<std::size_t>(supplier)];
    comparison.ranges.push_back({.from = pieces,
                                 .supplier = from.name,
                                 .landed = cost - from.lead_days.base() * c.downtime.per_day.base()});
  };
  begin_range(1, last);
  // Every number of pieces up to a few hundred, then in steps of one in a hundred.
  int before = 1;
  for (int pieces = 2; pieces <= most_compared; pieces += std::max(1, pieces / 100)) {
    const int now = cheapest(pieces);
    if (now != last) {
      int low = before;
      int high = pieces;
      while (high - low > 1) {
        const int middle = low + (high - low) / 2;
        (cheapest(middle) == last ? low : high) = middle;
      }
      begin_range(high, now);
      last = now;
    }
    before = pieces;
  }

  for (const int s : suppliers) {
    const Supplier& abroad = c.suppliers[static_cast<std::size_t>(s)];
    if (abroad.currency == c.device.currency) continue;
    const double day = c.downtime.per_day.base();
    const double wait = abroad.lead_days.base() * day;
    const double landed = least_from(c, candidate, s, bought.quantity) - wait;
    double other = std::numeric_limits<double>::infinity();
    int who = -1;
    for (const int o : suppliers) {
      if (o == s || c.suppliers[static_cast<std::size_t>(o)].currency == abroad.currency) continue;
      const double cost = least_from(c, candidate, o, bought.quantity);
      if (cost < other) {
        other = cost;
        who = o;
      }
    }
    if (who < 0 || !std::isfinite(landed) || landed <= 0 || other <= wait) continue;
    // All that is paid abroad is in proportion to the rate.
    const double rate = abroad.exchange_rate.base();
    comparison.rates.push_back({.supplier = abroad.name,
                                .other = c.suppliers[static_cast<std::size_t>(who)].name,
                                .rate = rate,
                                .turning = rate * (other - wait) / landed});
  }
  return comparison;
}

}  // namespace

void answer_spares(Buying& b, const Case& c, const std::vector<WishedPart>& wished, const Basket& best) {
  for (const auto& item : best.items) {
    const auto& worth = worth_of(wished, item);
    const std::string& part = c.parts[static_cast<std::size_t>(item.part)].name;
    const std::string& candidate = candidate_of(c, item).name;
    const bool known = std::any_of(b.spares.begin(), b.spares.end(), [&](const SpareCurve& curve) {
      return curve.part == part && curve.candidate == candidate;
    });
    if (known) continue;
    SpareCurve curve{
        .part = part, .candidate = candidate, .small_order = worth.small_order, .least = worth.resale};
    const double half_unit = 0.5 * std::pow(10.0, -c.device.minor_digits);
    for (int k = 1; k <= most_spare_rows; ++k) {
      const double step = at(worth.if_used, k) - at(worth.if_used, k - 1);
      if (k > 1 && step < half_unit) break;
      curve.rows.push_back({.spare = k,
                            .worth = step,
                            .used_elsewhere = at(worth.elsewhere, k) - at(worth.elsewhere, k - 1),
                            .used = std::max(0.0, at(worth.used, k) - at(worth.used, k - 1))});
    }
    b.spares.push_back(std::move(curve));
  }
}

void answer_ladders(Buying& b, const Case& c, const std::vector<WishedPart>& wished, const Basket& best) {
  int last_part = -1;
  for (std::size_t line = 0; line < best.items.size(); ++line) {
    const int part = best.items[line].part;
    if (part == last_part) continue;
    last_part = part;
    if (stands_alone(best, line)) b.ladders.push_back(ladder_of(c, wished, best, line));
  }
}

void answer_suppliers(Buying& b, const Case& c, const Basket& best) {
  int last_part = -1;
  for (const auto& item : best.items) {
    if (item.part == last_part) continue;
    last_part = item.part;
    auto comparison = compare_suppliers(c, item);
    if (!comparison.ranges.empty()) b.suppliers.push_back(std::move(comparison));
  }
}

}  // namespace mendworth
