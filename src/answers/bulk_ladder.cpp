#include "answers/bulk_ladder.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "numeric/order_quantity.hpp"

namespace mendworth {
namespace {

constexpr int most_searched = 200'000;  ///< pieces; far beyond any bench
constexpr double days_per_year = 365.25;
constexpr double far_tail = 0.99999;
constexpr std::size_t most_rows = 18;

const Candidate& at(const Case& c, int part, int candidate) {
  return c.parts[static_cast<std::size_t>(part)].candidates[static_cast<std::size_t>(candidate)];
}

/// Up to where the search for the best purchase goes: beyond, neither price nor demand changes any more.
int search_end(const Candidate& candidate, const Demand& demand) {
  int end = demand.quantile(far_tail);
  for (const Offer& offer : candidate.offers) {
    for (const PriceBreak& step : offer.prices) end = std::max(end, step.from);
    end = std::max(end, offer.least);
  }
  int widest = 1;
  for (const Offer& offer : candidate.offers) widest = std::max(widest, offer.multiple);
  return std::min(end + widest, most_searched);
}

class LadderMaker {
 public:
  LadderMaker(const Case& c, int part, int candidate, const Bulk& bulk, const LadderDemand& demand)
      : c_(c), part_(part), number_(candidate), bulk_(bulk), demand_(demand) {
    const Part& p = c.parts[static_cast<std::size_t>(part)];
    resale_ = p.spare_resale.base();
    ladder_.part = p.name;
    ladder_.candidate = at(c, part, candidate).name;
    ladder_.shortage_cost = bulk.shortage_cost.value_or(usual_shortage_cost(c, part));
  }

  BulkLadder make(const std::vector<int>& asked) {
    find_best();
    for (const int quantity : quantities(asked)) add_row(quantity);
    ladder_.repeated = repeated();
    return std::move(ladder_);
  }

 private:
  [[nodiscard]] const Candidate& candidate() const { return at(c_, part_, number_); }

  [[nodiscard]] double expected_cost(int quantity, double landed) const {
    return landed + ladder_.shortage_cost * demand_.period.expected_shortage(quantity) -
           resale_ * demand_.period.expected_left(quantity);
  }

  [[nodiscard]] BulkRow row_of(const Purchase& purchase) const {
    BulkRow row;
    const int q = purchase.quantity;
    row.quantity = q;
    row.landed = purchase.cost.total;
    row.currency = c_.device.currency;
    if (purchase.offer >= 0) {
      const Offer& offer = candidate().offers[static_cast<std::size_t>(purchase.offer)];
      const Supplier& supplier = c_.suppliers[static_cast<std::size_t>(offer.supplier)];
      row.supplier = supplier.name;
      row.currency = supplier.currency;
      row.each = unit_price(offer, q);
      row.landed_each = row.landed / q;
    }
    row.suffices = demand_.period.at_most(q);
    row.runs_out_by = demand_.until ? demand_.until->above(q) : 0;
    row.short_pieces = demand_.period.expected_shortage(q);
    row.left_pieces = demand_.period.expected_left(q);
    row.left_chance = q > 0 ? demand_.period.at_most(q - 1) : 0;
    row.years_of_stock = demand_.per_year > 0 ? q / demand_.per_year : 0;
    row.write_off = row.left_pieces * (row.landed_each - resale_);
    row.cost = expected_cost(q, row.landed);
    return row;
  }

  void find_best() {
    Purchase best;  // nothing at all
    double least = expected_cost(0, 0);
    const int end = search_end(candidate(), demand_.period);
    for (int q = 1; q <= end; ++q) {
      const auto purchase = cheapest_purchase(c_, part_, number_, q);
      if (!purchase) continue;
      const double cost = expected_cost(q, purchase->cost.total);
      if (cost >= least) continue;
      least = cost;
      best = *purchase;
    }
    ladder_.best = row_of(best);
    ladder_.best.best = true;
  }

  /// What is asked for, the best, the quantities around the need, and every price break.
  [[nodiscard]] std::vector<int> quantities(const std::vector<int>& asked) const {
    std::set<int> chosen{ladder_.best.quantity};
    const auto add = [&](int pieces) {
      for (const int q : pack_quantities(candidate(), std::max(pieces, 1))) chosen.insert(q);
    };
    for (const int quantity : asked) add(quantity);
    add(static_cast<int>(std::ceil(demand_.period.mean())));
    add(demand_.period.quantile(bulk_.cover));
    for (const Offer& offer : candidate().offers) {
      for (const PriceBreak& step : offer.prices) {
        if (chosen.size() < most_rows) add(step.from);
      }
    }
    // One step less and one more than the need.
    for (const Offer& offer : candidate().offers) {
      const int need = static_cast<int>(std::ceil(demand_.period.mean()));
      if (chosen.size() < most_rows) add(need - offer.multiple);
      if (chosen.size() < most_rows) add(need + offer.multiple);
    }
    return {chosen.begin(), chosen.end()};
  }

  void add_row(int quantity) {
    if (quantity == ladder_.best.quantity) {
      ladder_.rows.push_back(ladder_.best);
    } else if (const auto purchase = cheapest_purchase(c_, part_, number_, quantity)) {
      ladder_.rows.push_back(row_of(*purchase));
    }
  }

  [[nodiscard]] std::optional<RepeatedOrders> repeated() const {
    if (demand_.per_year <= 0) return std::nullopt;
    // A larger order would outlast the shelf life.
    const double kept = std::floor(demand_.per_year * demand_.shelf_years);
    const int end = static_cast<int>(std::clamp(kept, 1.0, static_cast<double>(most_searched)));
    std::optional<Purchase> best;
    OrderSize least;
    const auto try_one = [&](int q) {
      const auto purchase = cheapest_purchase(c_, part_, number_, q);
      if (!purchase) return;
      const OrderSize size =
          yearly_cost(q, purchase->cost.total, bulk_.order_cost, demand_.per_year, bulk_.carrying_rate);
      if (best && size.total() >= least.total()) return;
      best = purchase;
      least = size;
    };
    for (int q = 1; q <= end; ++q) try_one(q);
    if (!best) {
      for (const int q : pack_quantities(candidate(), 1)) try_one(q);
    }
    if (!best) return std::nullopt;
    RepeatedOrders orders;
    const Offer& offer = candidate().offers[static_cast<std::size_t>(best->offer)];
    orders.quantity = best->quantity;
    orders.supplier = c_.suppliers[static_cast<std::size_t>(offer.supplier)].name;
    orders.landed = best->cost.total;
    orders.orders_per_year = demand_.per_year / best->quantity;
    orders.purchase = least.purchase;
    orders.ordering = least.ordering;
    orders.carrying = least.holding;
    orders.total = least.total();
    orders.lead_days = best->cost.wait_days;
    const Demand in_lead_time = demand_.within(orders.lead_days / days_per_year);
    orders.reorder_point = in_lead_time.quantile(bulk_.cover);
    orders.reorder_cover = in_lead_time.at_most(orders.reorder_point);
    return orders;
  }

  const Case& c_;
  int part_, number_;
  const Bulk& bulk_;
  const LadderDemand& demand_;
  double resale_ = 0;
  BulkLadder ladder_;
};

}  // namespace

std::optional<Purchase> cheapest_purchase(const Case& c, int part, int candidate, int quantity) {
  const Candidate& sold = at(c, part, candidate);
  std::optional<Purchase> best;
  for (std::size_t i = 0; i < sold.offers.size(); ++i) {
    if (!is_allowed(sold.offers[i], quantity)) continue;
    const OrderItem item{part, candidate, static_cast<int>(i), quantity};
    const auto cost = landed_cost(c, {&item, 1}, Parcel::with_other_goods);
    if (!cost || (best && cost->total >= best->cost.total)) continue;
    best = Purchase{quantity, static_cast<int>(i), *cost};
  }
  return best;
}

std::optional<Purchase> cheapest_purchase_of_at_least(const Case& c, int part, int candidate, int pieces) {
  // A break, a shipping tier or a low-order limit may make more pieces cost less.
  const Candidate& sold = at(c, part, candidate);
  std::optional<Purchase> best;
  const auto try_one = [&](int quantity) {
    const auto purchase = cheapest_purchase(c, part, candidate, quantity);
    if (purchase && (!best || purchase->cost.total < best->cost.total)) best = purchase;
  };
  for (const int q : pack_quantities(sold, pieces)) try_one(q);
  for (const Offer& offer : sold.offers) {
    const Supplier& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    for (const int q : turning_points(offer, supplier, 0.0, pieces, Parcel::with_other_goods)) try_one(q);
  }
  return best;
}

double usual_shortage_cost(const Case& c, int part) {
  std::optional<double> least;
  const auto& candidates = c.parts[static_cast<std::size_t>(part)].candidates;
  for (int i = 0; i < static_cast<int>(candidates.size()); ++i) {
    const auto purchase = cheapest_purchase_of_at_least(c, part, i, 1);
    if (!purchase) continue;
    const double cost = purchase->cost.total + purchase->cost.wait_days * c.downtime.per_day.base();
    if (!least || cost < *least) least = cost;
  }
  return least.value_or(0.0);
}

double usual_lead_days(const Case& c, int part, int candidate) {
  const auto& offers = at(c, part, candidate).offers;
  if (offers.empty()) return 0;
  return c.suppliers[static_cast<std::size_t>(offers.front().supplier)].lead_days.base();
}

BulkLadder ladder_of(const Case& c, int part, int candidate, const Bulk& bulk, const LadderDemand& demand,
                     const std::vector<int>& asked) {
  return LadderMaker(c, part, candidate, bulk, demand).make(asked);
}

}  // namespace mendworth
