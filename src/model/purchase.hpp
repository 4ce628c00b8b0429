#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "mendworth/case.hpp"

/// Buying: price ladders, landed cost of an order, the cheapest order for given pieces (MODEL section 3).
/// Every function evaluates ranges at their base; a case whose ranges have been set to drawn values is priced
/// at those.
namespace mendworth {

/// Pieces of one candidate that an order must bring.
struct Need {
  int part = 0;       ///< index into Case::parts
  int candidate = 0;  ///< index into Part::candidates
  int pieces = 0;     ///< >= 1
};

/// Pieces in the drawer, of all candidates of a part.
[[nodiscard]] inline int pieces_on_hand(const Part& part) {
  int pieces = 0;
  for (const Candidate& candidate : part.candidates) pieces += candidate.on_hand;
  return pieces;
}

/// One line of an order.
struct OrderItem {
  int part = 0;
  int candidate = 0;
  int offer = 0;     ///< index into Candidate::offers
  int quantity = 0;  ///< pieces
};

[[nodiscard]] inline const Candidate& candidate_of(const Case& c, const OrderItem& item) {
  return c.parts[static_cast<std::size_t>(item.part)].candidates[static_cast<std::size_t>(item.candidate)];
}
[[nodiscard]] inline const Offer& offer_of(const Case& c, const OrderItem& item) {
  return candidate_of(c, item).offers[static_cast<std::size_t>(item.offer)];
}
[[nodiscard]] inline const Supplier& supplier_of(const Case& c, const OrderItem& item) {
  return c.suppliers[static_cast<std::size_t>(offer_of(c, item).supplier)];
}

/// What an order costs at the doorstep, in the case's currency, this job's share only. The parts add up to
/// total.
struct LandedCost {
  double goods = 0;  ///< lines with their fees
  double shipping = 0;
  double fees = 0;  ///< low-order fees, customs handling
  double duty = 0;
  double tax = 0;
  double exchange_fee = 0;
  double total = 0;
  double wait_days = 0;  ///< of the slowest supplier
};

struct Order {
  std::vector<OrderItem> items;
  LandedCost cost;
  bool search_limited = false;  ///< a limit stopped the search before all combinations were seen
};

/// Whether a supplier would sell exactly this quantity.
[[nodiscard]] bool is_allowed(const Offer& offer, int quantity);
/// The least allowed quantity of at least `pieces`; absent if stock or multiple forbid it.
[[nodiscard]] std::optional<int> least_allowed(const Offer& offer, int pieces);
/// Unit price for a quantity: the break with the highest `from` not above it; below the first break, the
/// first.
[[nodiscard]] double unit_price(const Offer& offer, int quantity);
/// quantity * unit price + line fee, in the supplier's currency.
[[nodiscard]] double line_price(const Offer& offer, int quantity);

/// Landed cost of goods worth `goods` (supplier's currency, >= 0) at one supplier. Absent if refused as too
/// small.
///
/// Shipping tier, low-order limit and duty-free limit look at the whole parcel, goods for other jobs
/// included; this job bears its share by value (all of it where the parcel holds nothing of value). A limit
/// counts as reached within a billionth, so that ten pieces at 2.50 do reach 25. Duty is due when the
/// parcel's customs value exceeds the free limit, and the carrier's handling with it, even where the rate
/// of duty is zero. Tax is on goods, shipping, low-order fee and duty. The exchange fee is on what the
/// supplier is paid: goods, shipping, low-order fee and the tax on these; duty, the tax on it and the
/// handling are paid at the doorstep and bear none.
[[nodiscard]] std::optional<LandedCost> supplier_cost(const Supplier& supplier, double goods);

/// What a supplier asks for a parcel beside its goods: the same over a range of goods.
struct ParcelTerms {
  double shipping = 0;  ///< of the whole parcel, supplier's currency
  bool low = false;     ///< a low order: charged, or refused
  bool dutiable = false;
  friend bool operator==(const ParcelTerms&, const ParcelTerms&) = default;
};
/// The terms that hold when this job's goods come to `goods`.
[[nodiscard]] ParcelTerms parcel_terms(const Supplier& supplier, double goods);
/// supplier_cost on given terms, be they those of these goods or not; a low order is charged, never refused.
[[nodiscard]] LandedCost cost_on_terms(const Supplier& supplier, const ParcelTerms& terms, double goods);
/// What this job's goods would have to come to (supplier's currency) for the parcel to reach each later
/// shipping tier and the low-order limit. Rising; only values above `goods`.
[[nodiscard]] std::vector<double> thresholds_above(const Supplier& supplier, double goods);

/// Landed cost of an order that may span several suppliers. Absent if a supplier refuses it as too small.
/// Lines of less than one piece are ignored. Never allocates.
[[nodiscard]] std::optional<LandedCost> landed_cost(const Case& c, std::span<const OrderItem> items);

/// The order of exactly these pieces with the least total + wait_days * day_cost, over all ways to divide the
/// lines among suppliers, one offer for each need. Exact, unless the limit of two million steps is met
/// (search_limited). Items in the order of the needs; of equals the first found, the cheaper lines first.
/// Absent if some need cannot be met.
[[nodiscard]] std::optional<Order> cheapest_order(const Case& c, std::span<const Need> needs,
                                                  double day_cost);

/// The least allowed quantities of at least `pieces` that the candidate's offers have between them, rising,
/// without repetition: {1, 10} where one supplier sells singles and another packs of ten.
[[nodiscard]] std::vector<int> pack_quantities(const Candidate& candidate, int pieces);

/// Quantities above `above` at which an order may come to cost less in all than with one piece fewer, `rest`
/// being the other lines' goods at this supplier (its currency): the first of each later price segment, and in
/// every segment the first that reaches each shipping tier or the low-order limit. Between them the cost of an
/// order with this offer never falls. Rising, all allowed.
[[nodiscard]] std::vector<int> turning_points(const Offer& offer, const Supplier& supplier, double rest,
                                              int above);
/// The same for one line of an order, over all offers of its candidate and with the other lines as they are.
[[nodiscard]] std::vector<int> turning_points(const Case& c, std::span<const OrderItem> items,
                                              std::size_t line, int above);

/// Larger quantities of items[line], at any step of the ladder, that just reach a cheaper shipping tier or the
/// low-order limit, with the rest of the order as it is, and cost less in all than the order and than every
/// smaller top-up; of a refused order, those that make it accepted. Rising.
[[nodiscard]] std::vector<int> top_ups(const Case& c, std::span<const OrderItem> items, std::size_t line);

/// Up to so many lines cheaper_in_all and enlarged divide the order anew for every quantity; beyond, where that
/// takes too long, all other lines stay with the suppliers that are cheapest for the needs as given.
inline constexpr std::size_t most_lines_divided_anew = 4;

/// Larger quantities of needs[line] with which the cheapest order of all needs costs less (total + wait_days *
/// day_cost) than with every smaller quantity from needs[line].pieces on; of needs that nobody supplies as they
/// are, the first that can be had counts as cheaper. Rising, so that the last costs least of all.
[[nodiscard]] std::vector<int> cheaper_in_all(const Case& c, std::span<const Need> needs, std::size_t line,
                                              double day_cost);

/// The needs with one line after another raised to its cheapest quantity (see cheaper_in_all), until no larger
/// quantity of any single line makes the order cost less. The needs themselves where none does.
[[nodiscard]] std::vector<Need> enlarged(const Case& c, std::vector<Need> needs, double day_cost);

/// Quantities worth trying when `need` pieces are used now and the others kept as spares: pack_quantities of the
/// need with 0 (from `least_spares` on), 1, 2, 3, 5 and 8 spares, and the next two price breaks of each offer.
/// No price matters, only ladders' steps and packs. Rising, without repetition, at most `limit`: kept first are
/// the need, one spare, the nearest breaks, more spares, the second breaks.
[[nodiscard]] std::vector<int> stocking_quantities(const Candidate& candidate, int need, int least_spares,
                                                   int limit);

/// Quantities worth comparing when `need` pieces are wanted: pack_quantities of the need and of one more,
/// the next price breaks of each offer (at most two), and the quantities that just reach a cheaper shipping
/// tier when they cost less in all (see top_ups; of an order of this candidate alone). Rising, without
/// repetition, at most `limit`: the packs of the need are kept first, then top-ups, one more, and the
/// nearest breaks. Only the top-ups depend on prices.
[[nodiscard]] std::vector<int> quantities_of_interest(const Case& c, int part, int candidate, int need,
                                                      int limit);

enum class Parcel { with_other_goods, alone };
[[nodiscard]] inline std::optional<LandedCost> landed_cost(const Case& c, std::span<const OrderItem> items, Parcel) {
  return landed_cost(c, items);
}
[[nodiscard]] inline std::optional<Order> cheapest_order(const Case& c, std::span<const Need> needs, double day, Parcel) {
  std::optional<Order> best;
  Need need = needs.front();
  const auto& cand = c.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
  for (const int q : pack_quantities(cand, need.pieces)) {
    need.pieces = q;
    auto o = cheapest_order(c, enlarged(c, {need}, day), day);
    if (o && (!best || o->cost.total < best->cost.total)) best = o;
  }
  return best;
}

}  // namespace mendworth
