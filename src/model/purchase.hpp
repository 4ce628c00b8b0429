#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "mendworth/case.hpp"

/// Buying: price ladders, landed cost of an order, the cheapest order for given pieces (src/README.md, Buying).
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
  friend bool operator==(const OrderItem&, const OrderItem&) = default;
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

/// Whether goods for other jobs (Supplier::other_goods) lie in the same parcel. They lie in that of the order placed
/// now; later orders, and orders that others would place, come alone.
enum class Parcel { with_other_goods, alone };

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

/// The least allowed quantity of at least `least` pieces that is sold at the price of break `segment` and whose line
/// comes to at least `goods` (supplier's currency); absent if there is none.
[[nodiscard]] std::optional<int> least_reaching(const Offer& offer, std::size_t segment, int least,
                                                double goods);

/// Landed cost of goods worth `goods` (supplier's currency, >= 0) at one supplier. Absent if refused as too
/// small.
///
/// Shipping tier, low-order limit and duty-free limit look at the whole parcel, goods for other jobs
/// included; this job bears its share by value (all of it where the parcel holds nothing of value). A limit
/// counts as reached within a billionth, so that ten pieces at 2.50 do reach 25. Duty, and the carrier's
/// handling with it, is due when the parcel's customs value exceeds the free limit and the rate of duty is
/// above zero. Tax is on goods, shipping, low-order fee and duty. The exchange fee is on what the
/// supplier is paid: goods, shipping, low-order fee and the tax on these; duty, the tax on it and the
/// handling are paid at the doorstep and bear none.
[[nodiscard]] std::optional<LandedCost> supplier_cost(const Supplier& supplier, double goods, Parcel parcel);

/// What a supplier asks for a parcel beside its goods: the same over a range of goods.
struct ParcelTerms {
  double shipping = 0;  ///< of the whole parcel, supplier's currency
  bool low = false;     ///< a low order: charged, or refused
  bool dutiable = false;
  friend bool operator==(const ParcelTerms&, const ParcelTerms&) = default;
};
/// The terms that hold when this job's goods come to `goods`.
[[nodiscard]] ParcelTerms parcel_terms(const Supplier& supplier, double goods, Parcel parcel);
/// supplier_cost on given terms, be they those of these goods or not; a low order is charged, never refused.
[[nodiscard]] LandedCost cost_on_terms(const Supplier& supplier, const ParcelTerms& terms, double goods,
                                       Parcel parcel);
/// What one more unit of goods costs beside shipping and handling: with tax, exchange rate and fee and, if dutiable,
/// duty. Times unit_price: the landed price of the next piece in a parcel that is sent anyway.
[[nodiscard]] double landed_slope(const Supplier& supplier, bool dutiable);
/// What this job's goods would have to come to (supplier's currency) for the parcel to reach each later
/// shipping tier and the low-order limit. Rising; only values above `goods`.
[[nodiscard]] std::vector<double> thresholds_above(const Supplier& supplier, double goods, Parcel parcel);

/// Landed cost of an order that may span several suppliers. Absent if a supplier refuses it as too small.
/// Lines of less than one piece are ignored. Never allocates.
[[nodiscard]] std::optional<LandedCost> landed_cost(const Case& c, std::span<const OrderItem> items,
                                                    Parcel parcel);
/// One line's share, by value, of what its supplier's whole parcel costs; by pieces where all of it is free. The shares
/// of all lines add up to the order's total. Throws std::invalid_argument if the supplier refuses the order.
[[nodiscard]] double landed_share(const Case& c, std::span<const OrderItem> items, std::size_t line,
                                  Parcel parcel);

/// The order of least total + wait_days * day_cost that brings at least these pieces: larger quantities where they cost
/// less, and a need that some offer's stock falls short of from several offers of its candidate. What best_baskets finds
/// where leftovers are worth nothing; of equals the one of fewer pieces, then the offer listed first. Items in the order
/// of the needs. Exact, unless the limit of best_baskets is met (search_limited). Absent if some need cannot be met.
[[nodiscard]] std::optional<Order> cheapest_order(const Case& c, std::span<const Need> needs, double day_cost,
                                                  Parcel parcel);

/// The least allowed quantities of at least `pieces` that the candidate's offers have between them, rising,
/// without repetition: {1, 10} where one supplier sells singles and another packs of ten.
[[nodiscard]] std::vector<int> pack_quantities(const Candidate& candidate, int pieces);

/// Quantities above `above` at which an order may come to cost less in all than with one piece fewer, `rest`
/// being the other lines' goods at this supplier (its currency): the first of each later price segment, and in
/// every segment the first that reaches each shipping tier or the low-order limit. Between them the cost of an
/// order with this offer never falls. Rising, all allowed.
[[nodiscard]] std::vector<int> turning_points(const Offer& offer, const Supplier& supplier, double rest,
                                              int above, Parcel parcel);
/// The same for one line of an order, over all offers of its candidate and with the other lines as they are.
[[nodiscard]] std::vector<int> turning_points(const Case& c, std::span<const OrderItem> items,
                                              std::size_t line, int above, Parcel parcel);

}  // namespace mendworth
