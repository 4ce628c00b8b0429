#include "answers/buy_ladders.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <optional>

#include "model/ladder.hpp"

namespace mendworth {
namespace {

constexpr int most_spare_rows = 8;

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

// Whether the line is the only one of its candidate: then its quantity is free.
bool stands_alone(const Basket& basket, std::size_t line) {
  return std::count_if(basket.items.begin(), basket.items.end(), [&](const OrderItem& item) {
           return item.part == basket.items[line].part && item.candidate == basket.items[line].candidate;
         }) == 1;
}

Ladder ladder_for(const Case& c, const std::vector<WishedPart>& wished, const Basket& best,
                  std::size_t line) {
  const OrderItem& chosen = best.items[line];
  const WishedPart& part = wished_part(wished, chosen.part);
  const auto& worth = worth_of(wished, chosen);
  const int need = part.wish.pieces;
  const double day = c.downtime.per_day.base();
  const double used_chance = part.wish.alone[static_cast<std::size_t>(chosen.candidate)].used_chance;
  const auto worth_left = [&](int quantity) { return used_chance * at(worth.if_used, quantity - need); };
  const double rest_net = best.misfit_cost - best.leftover_worth + worth_left(chosen.quantity);

  Ladder ladder{.part = c.parts[static_cast<std::size_t>(chosen.part)].name,
                .candidate = candidate_of(c, chosen).name,
                .needed = need};
  const LadderStep* cheapest = nullptr;
  const std::vector<LadderStep> steps = ladder_of(c, best.items, line, need, Parcel::with_other_goods);
  for (const LadderStep& step : steps) {
    const int quantity = step.item.quantity;
    const Supplier& from = supplier_of(c, step.item);
    LadderRow row{.quantity = quantity,
                  .supplier = from.name,
                  .supplier_currency = from.currency,
                  .each = unit_price(offer_of(c, step.item), quantity),
                  .line = line_price(offer_of(c, step.item), quantity),
                  .landed = step.cost.total,
                  .landed_each = step.share / quantity,
                  .left_over = quantity - need,
                  .used = used_chance * at(worth.used, quantity - need),
                  .worth = worth_left(quantity),
                  .net = step.cost.total + day * step.cost.wait_days + rest_net - worth_left(quantity),
                  .chosen = quantity == chosen.quantity};
    if (cheapest == nullptr || visibly_less(c, step.cost.total, cheapest->cost.total)) {
      if (cheapest != nullptr) row.remark = fmt::format("costs less than {}", cheapest->item.quantity);
      cheapest = &step;
    }
    ladder.rows.push_back(std::move(row));
  }
  return ladder;
}

/// Orders of one candidate that come alone, each from one supplier.
class AloneOrders {
 public:
  AloneOrders(const Case& c, const OrderItem& bought) : day_cost_(c.downtime.per_day.base()) {
    const Candidate& candidate = candidate_of(c, bought);
    for (const Offer& offer : candidate.offers) {
      if (std::find(suppliers_.begin(), suppliers_.end(), offer.supplier) != suppliers_.end()) continue;
      suppliers_.push_back(offer.supplier);
      Case only;
      only.suppliers = c.suppliers;
      only.parts.emplace_back().candidates.push_back(candidate);
      std::erase_if(only.parts[0].candidates[0].offers,
                    [&](const Offer& other) { return other.supplier != offer.supplier; });
      only_.push_back(std::move(only));
    }
  }

  [[nodiscard]] const std::vector<int>& suppliers() const { return suppliers_; }
  [[nodiscard]] std::optional<LandedCost> order(std::size_t which, int pieces) const {
    const Need need{0, 0, pieces};
    const auto found = cheapest_order(only_[which], {&need, 1}, day_cost_, Parcel::alone);
    return found ? std::optional(found->cost) : std::nullopt;
  }
  /// With the wait; infinite: not to be had.
  [[nodiscard]] double net(std::size_t which, int pieces) const {
    const auto cost = order(which, pieces);
    return cost ? cost->total + day_cost_ * cost->wait_days : std::numeric_limits<double>::infinity();
  }
  /// The supplier of least net cost; absent: none has so many.
  [[nodiscard]] std::optional<std::size_t> cheapest(int pieces) const {
    std::optional<std::size_t> best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t which = 0; which < suppliers_.size(); ++which) {
      const double cost = net(which, pieces);
      if (!(cost < least - 1e-9)) continue;
      least = cost;
      best = which;
    }
    return best;
  }

 private:
  double day_cost_;
  std::vector<int> suppliers_;
  std::vector<Case> only_;  // by supplier
};

// Where the cheapest supplier may change: steps of a fixed grid, refined by halving between two that differ.
std::vector<SupplierRange> supplier_ranges(const Case& c, const AloneOrders& orders) {
  constexpr int most_compared = 10'000;
  std::vector<SupplierRange> ranges;
  auto last = orders.cheapest(1);
  const auto begin_range = [&](int pieces) {
    if (!last) return;
    const auto cost = orders.order(*last, pieces);
    const Supplier& from = c.suppliers[static_cast<std::size_t>(orders.suppliers()[*last])];
    ranges.push_back({.from = pieces, .supplier = from.name, .landed = cost ? cost->total : 0.0});
  };
  begin_range(1);
  // Every number of pieces up to a few hundred, then in steps of one in a hundred.
  int before = 1;
  for (int pieces = 2; pieces <= most_compared; pieces += std::max(1, pieces / 100)) {
    const auto now = orders.cheapest(pieces);
    if (now != last) {
      int low = before;
      int high = pieces;
      while (high - low > 1) {
        const int middle = low + (high - low) / 2;
        (orders.cheapest(middle) == last ? low : high) = middle;
      }
      last = now;
      begin_range(high);
    }
    before = pieces;
  }
  return ranges;
}

SupplierComparison compare_suppliers(const Case& c, const OrderItem& bought) {
  const AloneOrders orders(c, bought);
  SupplierComparison comparison{.part = c.parts[static_cast<std::size_t>(bought.part)].name,
                                .candidate = candidate_of(c, bought).name};
  const std::vector<int>& suppliers = orders.suppliers();
  if (suppliers.size() < 2) return comparison;
  comparison.ranges = supplier_ranges(c, orders);
  const auto supplier = [&](std::size_t which) -> const Supplier& {
    return c.suppliers[static_cast<std::size_t>(suppliers[which])];
  };
  for (std::size_t s = 0; s < suppliers.size(); ++s) {
    const Supplier& abroad = supplier(s);
    if (abroad.currency == c.device.currency) continue;
    const auto landed = orders.order(s, bought.quantity);
    double other = std::numeric_limits<double>::infinity();
    std::size_t who = s;
    for (std::size_t o = 0; o < suppliers.size(); ++o) {
      if (o == s || supplier(o).currency == abroad.currency) continue;
      const double cost = orders.net(o, bought.quantity);
      if (cost < other) {
        other = cost;
        who = o;
      }
    }
    const double wait = abroad.lead_days.base() * c.downtime.per_day.base();
    if (who == s || !landed || landed->total <= 0 || other <= wait) continue;
    // All that is paid abroad is in proportion to the rate.
    const double rate = abroad.exchange_rate.base();
    comparison.rates.push_back({.supplier = abroad.name,
                                .other = supplier(who).name,
                                .rate = rate,
                                .turning = rate * (other - wait) / landed->total});
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
    const Need one{item.part, item.candidate, 1};
    const double day = c.downtime.per_day.base();
    const auto small_order = cheapest_order(c, {&one, 1}, day, Parcel::alone);
    SpareCurve curve{
        .part = part,
        .candidate = candidate,
        .small_order = small_order ? small_order->cost.total + day * small_order->cost.wait_days : 0.0,
        .least = worth.resale};
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
    if (stands_alone(best, line)) b.ladders.push_back(ladder_for(c, wished, best, line));
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
