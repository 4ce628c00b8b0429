#include "answers/bulk_ladder.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "answers/bulk_purchase.hpp"
#include "numeric/order_quantity.hpp"

namespace mendworth {
namespace {

constexpr int most_searched = 200'000;  ///< pieces; far beyond any bench
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

std::vector<BulkLine> lines_of(const Case& c, const Order& order) {
  std::vector<BulkLine> lines;
  for (const OrderItem& item : order.items) {
    const Supplier& supplier = supplier_of(c, item);
    lines.push_back({.supplier = supplier.name,
                     .quantity = item.quantity,
                     .each = unit_price(offer_of(c, item), item.quantity),
                     .currency = supplier.currency});
  }
  return lines;
}

class LadderMaker {
 public:
  LadderMaker(const Case& c, int part, int candidate, const Bulk& bulk, const LadderDemand& demand)
      : c_(c),
        candidate_(at(c, part, candidate)),
        day_cost_(c.downtime.per_day.base() * demand.failed_devices),
        lots_(c_, part, candidate, Parcel::with_other_goods, day_cost_),
        later_lots_(c, part, candidate, Parcel::alone, 0.0),
        bulk_(bulk),
        demand_(demand),
        all_(demand.later.shifted(demand.now).beyond(demand.at_hand)),
        lying_(demand.later) {
    const Part& p = c.parts[static_cast<std::size_t>(part)];
    resale_ = p.spare_resale.base();
    ladder_.part = p.name;
    ladder_.candidate = candidate_.name;
    ladder_.shortage_cost = bulk.shortage_cost.value_or(usual_shortage_cost(c, part));
    ladder_.most = most_to_be_had(candidate_);
  }

  BulkLadder make(const std::vector<int>& asked) {
    find_best();
    for (const int pieces : asked) {
      const Lots::Lot* lot = lot_near(pieces);
      ladder_.asked.push_back({pieces, lot == nullptr ? 0 : lot->pieces});
    }
    for (const int quantity : quantities(asked)) {
      ladder_.rows.push_back(quantity == ladder_.best.quantity ? ladder_.best
                                                               : row_of(lots_.of_at_least(quantity)));
    }
    ladder_.repeated = repeated();
    return std::move(ladder_);
  }

  BulkOffer compared(const std::vector<int>& wanted) {
    find_best();
    BulkOffer offer;
    offer.part = ladder_.part;
    offer.candidate = ladder_.candidate;
    offer.best = ladder_.best;
    if (const auto again = repeated()) offer.again = again->cost;
    for (const int pieces : wanted) {
      const Lots::Lot* lot = pieces < 1 ? nullptr : lots_.of_at_least(pieces);
      const BulkRow row = row_of(lot);
      offer.points.push_back({.wanted = pieces,
                              .quantity = row.quantity,
                              .landed = row.landed,
                              .per_used = row.per_used,
                              .cost = row.cost});
    }
    return offer;
  }

 private:
  /// At least so many pieces, or the most that can be had.
  [[nodiscard]] const Lots::Lot* lot_near(int pieces) {
    const int most = ladder_.most.value_or(pieces);
    return most < 1 ? nullptr : lots_.of_at_least(std::clamp(pieces, 1, most));
  }

  /// Of nothing at all where there is no lot.
  [[nodiscard]] BulkRow row_of(const Lots::Lot* lot) const {
    BulkRow row;
    row.currency = c_.device.currency;
    if (lot != nullptr) {
      row.quantity = lot->pieces;
      row.lines = lines_of(c_, lot->order);
      row.landed = lot->order.cost.total;
      row.landed_each = row.landed / row.quantity;
    }
    const int q = row.quantity, at_hand = demand_.at_hand;
    row.suffices = all_.at_most(q);
    row.runs_out_by = demand_.until ? demand_.until->above(q + at_hand) : 0;
    row.short_pieces = all_.expected_shortage(q);
    row.left_pieces = all_.expected_left(q);
    row.left_chance = q > 0 ? all_.at_most(q - 1) : 0;
    row.years_of_stock = demand_.per_year > 0 ? q / demand_.per_year : 0;
    row.write_off = row.left_pieces * (row.landed_each - resale_);
    row.cost = ladder_.shortage_cost * row.short_pieces;
    if (lot == nullptr) return row;
    const double used = q - row.left_pieces;
    if (used > 0) row.per_used = (row.landed - resale_ * row.left_pieces) / used;
    row.ordering = bulk_.order_cost;
    row.waiting = day_cost_ * lot->order.cost.wait_days;
    const int bought_from = at_hand - demand_.now;
    row.keeping = bulk_.carrying_rate * row.landed_each * demand_.years *
                  (lying_.up_to(bought_from + q) - lying_.up_to(bought_from));
    row.cost += row.landed + row.ordering + row.waiting + row.keeping - resale_ * row.left_pieces;
    return row;
  }

  void find_best() {
    ladder_.best = row_of(nullptr);
    const int end = search_end(candidate_, all_);
    // More pieces never cost less with their wait, and nothing brings more than all that may be left.
    const double most_back = resale_ * all_.expected_left(end);
    for (int q = 1; q <= end;) {
      const Lots::Lot* lot = lots_.of_at_least(q);
      if (lot == nullptr) break;
      const LandedCost& landed = lot->order.cost;
      const double least = landed.total + day_cost_ * landed.wait_days - most_back;
      if (least > ladder_.best.cost * (1 + 1e-9)) break;
      const BulkRow row = row_of(lot);
      // An order now for what is wanted at once costs as much as a small one then, not more.
      const double rounding = ladder_.best.quantity == 0 && demand_.now > demand_.at_hand ? 1e-9 : 0;
      if (row.cost < ladder_.best.cost * (1 + rounding)) ladder_.best = row;
      q = lot->pieces + 1;
    }
    ladder_.best.best = true;
  }

  /// What is asked for, the best, the quantities around the need, and every price break.
  [[nodiscard]] std::set<int> quantities(const std::vector<int>& asked) {
    std::set<int> chosen{ladder_.best.quantity};
    const auto add = [&](int pieces) {
      if (const Lots::Lot* lot = lot_near(pieces)) chosen.insert(lot->pieces);
    };
    const int need = static_cast<int>(std::ceil(all_.mean()));
    for (const int pieces : asked) add(pieces);
    add(need);
    add(all_.quantile(bulk_.cover));
    for (const Offer& offer : candidate_.offers) {
      for (const PriceBreak& step : offer.prices) {
        if (chosen.size() < most_rows) add(step.from);
      }
    }
    // One step less and one more than the need.
    for (const Offer& offer : candidate_.offers) {
      if (chosen.size() < most_rows) add(need - offer.multiple);
      if (chosen.size() < most_rows) add(need + offer.multiple);
    }
    return chosen;
  }

  [[nodiscard]] std::optional<RepeatedOrders> repeated() {
    if (demand_.per_year <= 0) return std::nullopt;
    // What outlasts the shelf life is thrown away.
    const double kept = std::floor(demand_.per_year * demand_.shelf_years);
    const int end = static_cast<int>(std::clamp(kept, 1.0, static_cast<double>(most_searched)));
    const Lots::Lot* best = nullptr;
    OrderSize least;
    for (int q = 1; q <= end;) {
      const Lots::Lot* lot = later_lots_.of_at_least(q);
      if (lot == nullptr) break;
      const double landed = lot->order.cost.total;
      const OrderSize size = yearly_cost(std::min(lot->pieces, end), landed, bulk_.order_cost,
                                         demand_.per_year, bulk_.carrying_rate);
      if (best == nullptr || size.total() < least.total()) {
        best = lot;
        least = size;
      }
      // Larger orders cost no less each, and are no rarer than the last.
      if (landed * (demand_.per_year / end + bulk_.carrying_rate / 2) > least.total()) break;
      q = lot->pieces + 1;
    }
    if (best == nullptr) return std::nullopt;
    RepeatedOrders orders;
    orders.quantity = best->pieces;
    orders.lines = lines_of(c_, best->order);
    orders.landed = best->order.cost.total;
    orders.orders_per_year = demand_.per_year / least.quantity;
    orders.purchase = least.purchase;
    orders.ordering = least.ordering;
    orders.carrying = least.holding;
    orders.total = least.total();
    orders.lead_days = best->order.cost.wait_days;
    const Demand in_lead_time = demand_.within(orders.lead_days / days_per_year);
    orders.reorder_point = in_lead_time.quantile(bulk_.cover);
    orders.reorder_cover = in_lead_time.at_most(orders.reorder_point);
    const std::optional<double> cost = cost_of_period(orders, in_lead_time);
    if (!cost) return std::nullopt;
    orders.cost = *cost;
    return orders;
  }

  /// What orders of this size cost until the end: the first one, for what is wanted at once too, and one more whenever
  /// the stock falls to the reorder point.
  [[nodiscard]] std::optional<double> cost_of_period(const RepeatedOrders& r, const Demand& in_lead_time) {
    const int at_once = std::max(0, demand_.now - demand_.at_hand);
    const Lots::Lot* first = lot_near(at_once + std::max(r.quantity, r.reorder_point + 1));
    if (first == nullptr) return std::nullopt;
    const int stock = std::max(first->pieces - at_once, r.reorder_point + 1);
    const Demand later = demand_.later.beyond(std::max(0, demand_.at_hand - demand_.now));
    double orders = 0;
    for (int wanted = stock - r.reorder_point; wanted <= later.largest(); wanted += r.quantity)
      orders += later.above(wanted - 1);
    const double each = r.landed / r.quantity;
    const double left = stock + r.quantity * orders - later.mean();
    const double safety = std::max(0.0, r.reorder_point - in_lead_time.mean());
    return first->order.cost.total + day_cost_ * first->order.cost.wait_days + orders * r.landed +
           (1 + orders) * bulk_.order_cost +
           bulk_.carrying_rate * each * demand_.years * (r.quantity / 2.0 + safety) +
           ladder_.shortage_cost * orders * in_lead_time.expected_shortage(r.reorder_point) -
           left * (demand_.ends ? resale_ : each);
  }

  const Case& c_;
  const Candidate& candidate_;
  double day_cost_;  ///< of the devices that wait for the order
  Lots lots_, later_lots_;
  const Bulk& bulk_;
  const LadderDemand& demand_;
  Demand all_;  ///< wanted until the end, beyond what is at hand
  LyingTimes lying_;
  double resale_ = 0;
  BulkLadder ladder_;
};

}  // namespace

BulkLadder ladder_of(const Case& c, int part, int candidate, const Bulk& bulk, const LadderDemand& demand,
                     const std::vector<int>& asked) {
  return LadderMaker(c, part, candidate, bulk, demand).make(asked);
}

BulkOffer compared_offer(const Case& c, int part, int candidate, const Bulk& bulk, const LadderDemand& demand,
                         const std::vector<int>& wanted) {
  return LadderMaker(c, part, candidate, bulk, demand).compared(wanted);
}

}  // namespace mendworth
