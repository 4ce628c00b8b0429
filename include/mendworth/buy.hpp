#pragma once

#include <optional>
#include <string>
#include <vector>

#include "mendworth/weigh.hpp"

/// What to order for a repair, from whom and how many (src/README.md, Buying). Money is in the case's currency,
/// unrounded, expected present cost unless said otherwise. Every double is finite.
namespace mendworth {

/// Pieces of a part that are wanted, in place of those that the best repair plan needs.
struct WantedPieces {
  std::string part;  ///< as the case names it
  int pieces = 1;    ///< 1..1'000'000
};

/// What is asked, and how finely.
struct BuySettings {
  std::uint64_t seed = 1;              ///< of the random numbers: one seed, one answer
  int futures = 0;                     ///< as in WeighSettings: to choose the plan
  int threads = 0;                     ///< 0: as many as the machine has; never changes an answer
  std::vector<WantedPieces> pieces{};  ///< absent parts: those that the best plan needs
  int baskets = 5;                     ///< how many baskets are listed, 1..50
  /// Called now and then with how far a search for the best basket has come, 0..1 of the work that it may take. It may
  /// end earlier, and another one follow.
  std::function<void(double)> progress{};
};

/// Lines for all parts, with what they come to.
struct BasketAnswer {
  std::vector<OrderLine> lines;  ///< what to order, of whom
  double landed = 0;             ///< all orders at the doorstep
  double wait_days = 0;          ///< until the last order is there
  double wait_cost = 0;          ///< of these days without the device
  double misfit_cost = 0;        ///< expected: tries that fail, ordering again or giving up
  double leftover_worth = 0;     ///< expected: what they save against buying them singly when they are wanted
  double net = 0;                ///< landed + wait_cost + misfit_cost - leftover_worth
  double more = 0;               ///< net, beyond that of the best basket
};

/// A basket that arrives earlier than the best.
struct FasterBasket {
  BasketAnswer basket;    ///< what it is
  double days_saved = 0;  ///< against the best basket, > 0
  /// What a day saved costs, days themselves counted at nothing.
  double cost_per_day = 0;
};

/// A second candidate bought at once, in case the first does not fit.
struct HedgeChoice {
  std::string part;          ///< the kind of piece
  std::string first;         ///< the candidate to try first
  std::string second;        ///< the one bought in case that does not fit
  std::string alone;         ///< what is bought without the hedge: one of the two, or a third
  double misfit_chance = 0;  ///< of the one bought alone
  double costs = 0;          ///< landed and waiting, less what leftovers are worth, beyond the order without
  double saves = 0;          ///< in expectation: ordering again, waiting, giving up
  bool pays = false;         ///< the best basket has it; where it costs what it saves it does not
  /// Chance of a misfit of the one bought alone from which on the hedge pays, all else alike; absent: at none up to 1,
  /// or that one is a third.
  std::optional<double> pays_from{};
};

/// How a candidate's chance to be the right one enters: in the order to try them.
struct TryOrder {
  std::string part;                       ///< the kind of piece
  std::vector<std::string> candidates{};  ///< by name
  std::vector<double> fits{};             ///< chance that this is the first that fits
};

/// What the k-th leftover piece is worth.
struct SpareRow {
  int spare = 1;              ///< 1: the first piece beyond the need
  double worth = 0;           ///< of this piece
  double used_elsewhere = 0;  ///< part of it from other devices and jobs alone, if this device needed none
  double used =
      0;  ///< more pieces expected to be used thanks to it, >= 0; above 1 where a failure wants several
};

/// What pieces beyond the need are worth, one after the other.
struct SpareCurve {
  std::string part;       ///< the kind of piece
  std::string candidate;  ///< what was chosen to serve as it
  double small_order =
      0;  ///< what it costs to buy one when it is needed, alone and with the wait; 0: not to be had
  double least = 0;  ///< what one sells for when the need ends, today: none that keeps so long is worth less
  std::vector<SpareRow> rows{};  ///< by rising number of pieces
};

/// One quantity of one part with the rest of the best basket as it is.
struct LadderRow {
  int quantity = 0;               ///< pieces
  std::string supplier;           ///< of them
  std::string supplier_currency;  ///< ISO 4217
  double each = 0;                ///< a piece, supplier's currency
  double line = 0;                ///< quantity * each + line fee, supplier's currency
  double landed = 0;              ///< whole order
  double landed_each = 0;         ///< per piece, with the line's share by value of the order's costs
  int left_over = 0;              ///< pieces beyond the need
  double used = 0;                ///< of those left over, expected to be used within shelf life
  double worth = 0;               ///< of those left over
  double net = 0;                 ///< landed, waiting and misfit, less worth
  bool chosen = false;            ///< the quantity in the best basket
  std::string remark{};           ///< "10 cost less than 9", or empty
};

/// Quantities of one part that are worth a look.
struct Ladder {
  std::string part;               ///< the kind of piece
  std::string candidate;          ///< what was chosen to serve as it
  int needed = 0;                 ///< pieces
  std::vector<LadderRow> rows{};  ///< by rising quantity
};

/// Which supplier is the cheapest for a number of pieces of one candidate, ordered alone.
struct SupplierRange {
  int from = 1;          ///< pieces; until the next range begins
  std::string supplier;  ///< as the case names it
  double landed = 0;     ///< for `from` pieces
};

/// Suppliers of one candidate against each other.
struct SupplierComparison {
  std::string part;                     ///< the kind of piece
  std::string candidate;                ///< what is sold to serve as it
  std::vector<SupplierRange> ranges{};  ///< rising; more than one: the answer turns with the quantity
  /// For a supplier in another currency, the exchange rate at which it and the best other one cost the same for the
  /// pieces of the best basket.
  struct TurningRate {
    std::string supplier;  ///< in another currency than the case's
    std::string other;     ///< the best other one
    double rate = 0;       ///< case currency per unit of the supplier's, now
    double turning = 0;    ///< the same where both cost alike
  };
  std::vector<TurningRate> rates{};  ///< one for each supplier in another currency
};

/// What to order, and what it hangs on.
struct Buying {
  std::string source_name;            ///< the case's file
  std::string device;                 ///< its name
  std::string currency;               ///< of every sum but prices each, ISO 4217
  int minor_digits = 2;               ///< digits after the point, ISO 4217
  BuySettings settings;               ///< as used; threads left out of every output
  std::string plan;                   ///< the repair that the pieces are for
  bool repair_is_best = true;         ///< of all courses of action
  std::string best_course;            ///< the course of least cost, whatever it is
  std::vector<BasketAnswer> baskets;  ///< best first
  bool proved = true;  ///< no basket is better than the first; else the search was ended by its limit
  double bound = 0;    ///< where not proved: no basket costs less net
  std::optional<BasketAnswer> one_supplier;  ///< the cheapest from a single supplier; absent: none has all
  std::vector<FasterBasket> faster;          ///< by rising wait
  OrderAnswer order;                         ///< the best basket, described as in a weighing
  std::vector<TryOrder> tries;               ///< parts with a doubt
  std::vector<HedgeChoice> hedges;           ///< candidates that could be bought in case another does not fit
  std::vector<SpareCurve> spares;            ///< one for each part of which pieces could be left over
  std::vector<Ladder> ladders;               ///< one for each part that is ordered
  std::vector<SupplierComparison> suppliers;  ///< one for each candidate that several suppliers have
  std::vector<Weighing::Caution> cautions;    ///< of the hazards of the case
  std::vector<std::string> notes;             ///< sentences: what was limited, what to check
};

/// Plans the purchase for a case. Deterministic in (case, settings.seed, settings.futures). Throws
/// std::invalid_argument if a setting is out of range or a part has no candidates; InputError is for the reader of
/// files, so that a part in settings.pieces that the case does not have is std::invalid_argument as well.
/// A device that is not for one's own hands gets no baskets but a note.
[[nodiscard]] Buying buy(const Case& c, const RateBook& rates, const BuySettings& settings);

}  // namespace mendworth
