#pragma once

#include <algorithm>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "model/purchase.hpp"

/// The exact choice of candidates, suppliers and quantities for several parts at once (src/README.md, Buying).
namespace mendworth {

/// Cost of what cannot be had.
inline constexpr double not_to_be_had = std::numeric_limits<double>::infinity();

/// Worth of leftover pieces: at [k] of k pieces. Starts with 0, never falls, its steps never rise; beyond the last
/// entry more pieces are worth nothing more. Empty: leftovers are worth nothing.
using WorthCurve = std::vector<double>;

/// What the choice for one part costs and saves beside the order. Money in the case's currency.
struct PartWish {
  int part = 0;    ///< index into Case::parts
  int pieces = 1;  ///< needed now, >= 1; every candidate that is bought must bring them all

  /// A candidate bought alone.
  struct Alone {
    /// Expected cost of its not fitting: the visit or dry fit lost, ordering again. Infinite: never bought alone.
    double misfit_cost = 0;
    double used_chance = 1;      ///< that it fits, 0..1
    WorthCurve left_if_used{};   ///< of the pieces beyond those needed
    WorthCurve left_if_wrong{};  ///< of all pieces, if it does not fit
  };
  std::vector<Alone> alone{};  ///< by candidate

  /// Two candidates bought at once, tried in this order.
  struct Hedge {
    int first = 0, second = 0;  ///< candidates
    double misfit_cost = 0;
    double first_used = 1, second_used = 0;  ///< chances; the rest: neither fits
  };
  std::vector<Hedge> hedges{};  ///< those worth a thought; worth of leftovers as in `alone`

  /// Somebody who waits for these pieces.
  struct Waiting {
    int job = 0;          ///< any number; the same in every wish of the job
    double day_cost = 0;  ///< of the job, >= 0, the same in every wish of it
  };
  /// The jobs that the pieces are for, where jobs share a basket: each waits for the slowest supplier of its own pieces.
  /// Empty: they are for the one job whose day is told to best_baskets.
  std::vector<Waiting> waiting{};
};

/// How far a search has come.
struct BasketProgress {
  double done = 0;   ///< of the steps it may take, 0..1; it may end earlier
  double best = 0;   ///< net cost of the best basket so far; infinite: none yet
  double bound = 0;  ///< no basket costs less
};

/// Steps after which a search is stopped: a second or two.
inline constexpr std::int64_t most_basket_steps = 200'000'000;

using TellBasketProgress = std::function<void(const BasketProgress&)>;

/// What may be chosen, and how long may be searched.
struct BasketLimits {
  std::optional<int> only_supplier{};      ///< index into Case::suppliers
  std::optional<double> most_wait_days{};  ///< of the slowest supplier
  Parcel parcel = Parcel::with_other_goods;
  std::int64_t most_steps =
      most_basket_steps;  ///< of work, not of time, so that every machine gives the same answer
  std::size_t most_looks =
      200'000;  ///< at ways to split the need of a part among suppliers whose stock falls short
  TellBasketProgress progress{};  ///< called now and then
};

/// Lines for all parts, with what they come to.
struct Basket {
  std::vector<OrderItem> items;  ///< by rising part; of a hedge the candidate to try first stands first
  LandedCost cost;
  double wait_cost = 0;       ///< of each job: days until its pieces are there, at the cost of its day
  double misfit_cost = 0;     ///< expected
  double leftover_worth = 0;  ///< expected
  std::vector<double> worth_of_wish{};  ///< of it by wish, in the order of the wishes
  [[nodiscard]] double net() const noexcept { return cost.total + wait_cost + misfit_cost - leftover_worth; }
};

struct BasketSearch {
  std::vector<Basket>
      best;            ///< least net cost first; each differs from the others in a candidate or a supplier
  bool proved = true;  ///< no basket is cheaper than the first; false: a limit stopped the search ...
  double bound = 0;    ///< ... and none can cost less than this
  std::int64_t steps = 0;  ///< of work that were taken
  /// What the best basket may cost more than the cheapest.
  [[nodiscard]] double gap() const { return best.empty() ? 0.0 : std::max(0.0, best.front().net() - bound); }
};

/// The `wanted` baskets of least net cost that differ in a candidate or a supplier, each with its best quantities:
/// fewer if there are no more, none if some part cannot be had (`proved`, `bound` 0). A candidate is bought in one line,
/// or, where the stock of some offer falls short of the need, in lines of several offers, of which none is superfluous
/// and at most one could bring all pieces alone. Exact, unless most_steps are taken; the baskets are then the best found
/// (of several thousand quantities, whatever the steps, the best of a selection). Of baskets that cost the same, to a
/// hundred-millionth of the money at stake, the one whose candidates fit best (the first of a hedge) goes first, then
/// that of fewer pieces, then that of the candidates listed first. At base prices. Throws std::invalid_argument if
/// `wanted` or a wish's pieces are less than 1, or a wish names a candidate it does not list in `alone`.
[[nodiscard]] BasketSearch best_baskets(const Case& c, std::span<const PartWish> wishes, double day_cost,
                                        const BasketLimits& limits, int wanted);

}  // namespace mendworth
