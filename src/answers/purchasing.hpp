#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "futures/ensemble.hpp"
#include "model/basket.hpp"
#include "model/misfit.hpp"

/// The one place where it is decided what to buy for a repair: weighing, buying, quoting and bulk ask here.
namespace mendworth {

/// What leftovers of each candidate of a part are worth to one repair plan. Pieces of a candidate that does not fit are
/// worth nothing: what does not fit here does not fit the other uses of the part either.
struct SpareWorth {
  struct OfCandidate {
    WorthCurve
        if_used;  ///< the candidate is the one that fits: own later failures, luck, other devices, resale
    WorthCurve elsewhere;      ///< other devices and resale alone, as if this device needed none
    std::vector<double> used;  ///< at [k] of k leftovers: expected number used while they keep
    double small_order = 0;    ///< what one costs when it is needed; 0 where it cannot be had
    double resale = 0;         ///< of an unused piece when the need or its shelf life ends, today's money
  };
  std::vector<OfCandidate> candidates;
};

/// What one part asks of the basket, with what it was made from.
struct WishedPart {
  PartWish wish;
  MisfitCost misfit;
  SpareWorth spares;
  double give_up = 0;  ///< cost of giving up the repair, beyond having a working device
};

/// What a plan is to buy.
struct Purchase {
  std::vector<WishedPart> wished;  ///< as asked of the basket, once the drawer's pieces are taken
  Case shop;                     ///< the case with the drawer as a supplier, the last one, if it has anything
  std::optional<Basket> basket;  ///< absent: some part cannot be had
  bool proved = true;            ///< no basket costs less net; else none less than `bound`
  double bound = 0;
  std::vector<std::vector<int>>
      trials;  ///< by part, where none is needed now: how candidates would be tried later
};

/// What follows from a plan once it has succeeded, without any spares.
struct PlanOutlook {
  StoppingRule rule;  ///< the best one for later failures
  double cost = 0;    ///< expected under it
};

struct PurchasingSettings {
  std::uint64_t seed = 1;
  int threads = 1;
  int futures = 1024;  ///< behind the worth of leftovers and what giving up costs
  std::int64_t most_steps = BasketLimits{}.most_steps;  ///< of the search for the basket
  TellBasketProgress progress{};                        ///< of it
  /// Spares are worth what they save under this rule for later failures; absent: under the one that is best without
  /// any. With spares at hand another rule may be best.
  std::optional<StoppingRule> spares_rule{};
  std::optional<PlanOutlook>
      outlook{};  ///< of the plan, where it is known: what to buy may be asked several times
};

[[nodiscard]] PlanOutlook outlook_of(const Scene& scene, const Option& option,
                                     const PurchasingSettings& settings);

/// How many candidates of a part are considered, the first of them: all, but for a dozen or a very large number of
/// measured dimensions.
[[nodiscard]] int candidates_tried(const Part& part);

/// What a plan asks of the basket, without the basket: `pieces` of each part (as a rule those that it renews now). The
/// plan is taken as it is but for its supplies and its rule for later failures, which is found anew.
[[nodiscard]] Purchase wishes_for(const Scene& scene, const std::vector<UnitCost>& unit, const Option& option,
                                  const std::vector<int>& pieces, const PurchasingSettings& settings);
/// The same with the best basket.
[[nodiscard]] Purchase purchase_for(const Scene& scene, const std::vector<UnitCost>& unit,
                                    const Option& option, const std::vector<int>& pieces,
                                    const PurchasingSettings& settings);

/// Supplies a plan by a purchase: what is ordered is entered into the book.
void supply(const Case& c, const Purchase& purchase, OrderBook& book, RepairPlan& plan);

/// worth[n]: of n pieces of a part for other devices and jobs, one after the other (a Poisson stream), each saving a
/// small order; what is left when the need or their shelf life ends is sold. n = 0..most.
[[nodiscard]] WorthCurve worth_elsewhere(const Case& c, const OrderBook& book, int part, int most);

/// The nondecreasing, concave curve nearest to `curve` in the mean of neighbouring steps (pooled adjacent violators),
/// with every step at least `least` and at most `most`.
[[nodiscard]] WorthCurve levelled(const WorthCurve& curve, double least, double most);

}  // namespace mendworth
