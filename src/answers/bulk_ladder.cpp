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
        lots_(c_, part, candidate, Parcel::with_other_goods),
        later_lots_(c, part, candidate, Parcel::alone),
        bulk_(bulk),
        demand_(demand) {
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
    const int q = row.quantity;
    row.suffices = demand_.period.at_most(q);
    row.runs_out_by = demand_.until ? demand_.until->above(q) : 0;
    row.short_pieces = demand_.period.expected_shortage(q);
    row.left_pieces = demand_.period.expected_left(q);
    row.left_chance = q > 0 ? demand_.period.at_most(q - 1) : 0;
    row.years_of_stock = demand_.per_year > 0 ? q / demand_.per_year : 0;
    row.write_off = row.left_pieces * (row.landed_each - resale_);
    row.cost = row.landed + ladder_.shortage_cost * row.short_pieces - resale_ * row.left_pieces;
    return row;
  }

  void find_best() {
    ladder_.best = row_of(nullptr);
    const int end = search_end(candidate_, demand_.period);
    // More pieces never cost less in all, and nothing brings more than all that may be left.
    const double most_back = resale_ * demand_.period.expected_left(end);
    for (int q = 1; q <= end;) {
      const Lots::Lot* lot = lots_.of_at_least(q);
      if (lot == nullptr || lot->order.cost.total - most_back > ladder_.best.cost) break;
      const BulkRow row = row_of(lot);
      if (row.cost < ladder_.best.cost) ladder_.best = row;
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
    const int need = static_cast<int>(std::ceil(demand_.period.mean()));
    for (const int pieces : asked) add(pieces);
    add(need);
    add(demand_.period.quantile(bulk_.cover));
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
    return orders;
  }

  const Case& c_;
  const Candidate& candidate_;
  Lots lots_, later_lots_;
  const Bulk& bulk_;
  const LadderDemand& demand_;
  double resale_ = 0;
  BulkLadder ladder_;
};

}  // namespace

BulkLadder ladder_of(const Case& c, int part, int candidate, const Bulk& bulk, const LadderDemand& demand,
                     const std::vector<int>& asked) {
  return LadderMaker(c, part, candidate, bulk, demand).make(asked);
}

}  // namespace mendworth
