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
  std::string part;
  int pieces = 1;  ///< 1..1'000'000
};

struct BuySettings {
  std::uint64_t seed = 1;
  int futures = 0;  ///< as in WeighSettings: to choose the plan
  int threads = 0;  ///< 0: as many as the machine has; never changes an answer
  std::vector<WantedPieces> pieces{};
  int baskets = 5;  ///< how many baskets are listed, 1..50
};

/// Lines for all parts, with what they come to.
struct BasketAnswer {
  std::vector<OrderLine> lines;
  double landed = 0;
  double wait_days = 0;
  double wait_cost = 0;
  double misfit_cost = 0;     ///< expected: tries that fail, ordering again or giving up
  double leftover_worth = 0;  ///< expected
  double net = 0;             ///< landed + wait_cost + misfit_cost - leftover_worth
  double more = 0;            ///< net, beyond that of the best basket
};

/// A basket that arrives earlier than the best.
struct FasterBasket {
  BasketAnswer basket;
  double days_saved = 0;
  /// What a day saved costs, days themselves counted at nothing.
  double cost_per_day = 0;
};

/// A second candidate bought at once, in case the first does not fit.
struct HedgeChoice {
  std::string part, first, second;  ///< in the order to try them
  std::string alone;                ///< what is bought without the hedge: one of the two, or a third
  double misfit_chance = 0;         ///< of the one bought alone
  double costs = 0;   ///< landed and waiting, less what leftovers are worth, beyond the order without
  double saves = 0;   ///< in expectation: ordering again, waiting, giving up
  bool pays = false;  ///< the best basket has it; where it costs what it saves it does not
  /// Chance of a misfit of the one bought alone from which on the hedge pays, all else alike; absent: at none up to 1,
  /// or that one is a third.
  std::optional<double> pays_from{};
};

/// How a candidate's chance to be the right one enters: in the order to try them.
struct TryOrder {
  std::string part;
  std::vector<std::string> candidates{};
  std::vector<double> fits{};  ///< chance that this is the first that fits
};

/// What the k-th leftover piece is worth.
struct SpareRow {
  int spare = 1;              ///< 1: the first piece beyond the need
  double worth = 0;           ///< of this piece
  double used_elsewhere = 0;  ///< part of it from other devices and jobs alone, if this device needed none
  double used = 0;            ///< expected to be used within its shelf life, 0..1
};

struct SpareCurve {
  std::string part, candidate;
  double small_order =
      0;  ///< what it costs to buy one when it is needed, alone and with the wait; 0: not to be had
  double least = 0;  ///< what one sells for when the need ends, today: none that keeps so long is worth less
  std::vector<SpareRow> rows{};
};

/// One quantity of one part with the rest of the best basket as it is.
struct LadderRow {
  int quantity = 0;
  std::string supplier;
  std::string supplier_currency;
  double each = 0, line = 0;  ///< supplier's currency
  double landed = 0;          ///< whole order
  double landed_each = 0;     ///< per piece, with the line's share by value of the order's costs
  int left_over = 0;
  double used = 0;   ///< of those left over, expected to be used within shelf life
  double worth = 0;  ///< of those left over
  double net = 0;    ///< landed, waiting and misfit, less worth
  bool chosen = false;
  std::string remark{};
};

struct Ladder {
  std::string part, candidate;
  int needed = 0;
  std::vector<LadderRow> rows{};
};

/// Which supplier is the cheapest for a number of pieces of one candidate, ordered alone.
struct SupplierRange {
  int from = 1;  ///< pieces; until the next range begins
  std::string supplier;
  double landed = 0;  ///< for `from` pieces
};

struct SupplierComparison {
  std::string part, candidate;
  std::vector<SupplierRange> ranges{};  ///< rising; more than one: the answer turns with the quantity
  /// For a supplier in another currency, the exchange rate at which it and the best other one cost the same for the
  /// pieces of the best basket.
  struct TurningRate {
    std::string supplier, other;
    double rate = 0, turning = 0;
  };
  std::vector<TurningRate> rates{};
};

struct Buying {
  std::string source_name, device, currency;
  int minor_digits = 2;
  BuySettings settings;  ///< as used; threads left out of every output
  std::string plan;      ///< the repair that the pieces are for
  bool repair_is_best = true;
  std::string best_course;            ///< the course of least cost, whatever it is
  std::vector<BasketAnswer> baskets;  ///< best first
  bool proved = true;
  double bound = 0;                          ///< where not proved: no basket costs less net
  std::optional<BasketAnswer> one_supplier;  ///< the cheapest from a single supplier; absent: none has all
  std::vector<FasterBasket> faster;          ///< by rising wait
  OrderAnswer order;                         ///< the best basket, described as in a weighing
  std::vector<TryOrder> tries;               ///< parts with a doubt
  std::vector<HedgeChoice> hedges;
  std::vector<SpareCurve> spares;
  std::vector<Ladder> ladders;
  std::vector<SupplierComparison> suppliers;
  std::vector<Weighing::Caution> cautions;
  std::vector<std::string> notes;
};

/// Plans the purchase for a case. Deterministic in (case, settings.seed, settings.futures). Throws
/// std::invalid_argument if a setting is out of range or a part has no candidates; InputError is for the reader of
/// files, so that a part in settings.pieces that the case does not have is std::invalid_argument as well.
/// A device that is not for one's own hands gets no baskets but a note.
[[nodiscard]] Buying buy(const Case& c, const RateBook& rates, const BuySettings& settings);

}  // namespace mendworth
