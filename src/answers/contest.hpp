#pragma once

#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "answers/purchasing.hpp"
#include "mendworth/weigh.hpp"
#include "numeric/mean_error.hpp"

namespace mendworth {

/// How much work goes into a contest.
struct Effort {
  int futures = 0;            ///< every option is run through; 0: as many as precision takes
  int first_futures = 2048;   ///< run before that is judged
  int choice_futures = 1024;  ///< behind each choice: what to renew, the rule for later failures
  int worth_futures = 512;    ///< behind what leftovers are worth and what giving up costs
  std::int64_t most_steps = BasketLimits{}.most_steps;  ///< of a search for a basket
  bool draw_prices = true;
  TellBasketProgress progress{};  ///< of each search for a basket
  bool best_plan_only = false;    ///< and those that renew the same now; false: the best of each family
  bool keep_amounts = false;      ///< of items, for other prices
  /// Of the device's first futures with prices at base, where they are known; must outlive the contest.
  FutureStore* store = nullptr;
};

/// What is asked for: where a coarse answer will do, plans are told apart on fewer futures too.
[[nodiscard]] Effort effort_for(const WeighSettings& settings);

/// As many futures as make a cost or a saving as precise as wanted, judged by what the first ones found of it. `stake`
/// is the most that the options compared ask for now.
[[nodiscard]] int futures_wanted(const MeanError& found, double stake, int first_futures,
                                 const WeighSettings& settings);
/// What is at stake between options of a case.
[[nodiscard]] double stake_of(const DeviceModel& model, const OrderBook& book,
                              std::initializer_list<const Option*> options);

/// All options of a case, each with its best purchase and rule, run through the same futures. Everything that is
/// answered is answered from here.
class Contest {
 public:
  /// Enumerates, chooses, runs. `cache` must outlive this. Throws std::invalid_argument if a part has no candidates
  /// although the work is for one's own hands.
  Contest(const Case& c, const RateBook& rates, const Hypothesis& hypothesis, const WeighSettings& settings,
          const Effort& effort, ModelCache& cache);
  Contest(const Contest&) = delete;
  Contest& operator=(const Contest&) = delete;

  const DeviceModel model;  ///< its case has what is assumed for the price of a replacement without one
  OrderBook book;
  int standing_orders = 0;  ///< of the book: what later failures may ask for, whatever the plan
  Items items;
  std::vector<UnitCost> unit;  ///< base prices
  Chains chains;
  std::vector<Option> options;
  Ensemble ensemble;                   ///< all futures, costs kept
  std::vector<Amounts> first_amounts;  ///< per option, in the first futures; empty unless kept
  bool referred = false;               ///< a hazard is not for one's own hands
  bool unpriced = false;               ///< no replacement has a price
  double assumed_price = 0;            ///< of every replacement, where unpriced
  std::vector<std::string> notes;
  /// The first futures, for who asks for them again, one thread at a time; null where they are another contest's.
  std::shared_ptr<FutureStore> first_store;

  [[nodiscard]] Scene scene() const noexcept { return {model, items, book, chains, effort_.store}; }
  /// Run before it is judged how many it takes.
  [[nodiscard]] int first_futures() const noexcept {
    return effort_.futures > 0 ? effort_.futures : effort_.first_futures;
  }
  [[nodiscard]] bool is_repair(std::size_t option) const;
  [[nodiscard]] bool is_priced_replacement(std::size_t option) const;
  /// The option of least cost among those that `wanted` accepts; costs[i] goes with options[i].
  template <class Wanted>
  [[nodiscard]] std::optional<std::size_t> least(const std::vector<double>& costs, Wanted wanted) const {
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < options.size(); ++i) {
      if (wanted(i) && (!best || costs[i] < costs[*best])) best = i;
    }
    return best;
  }
  [[nodiscard]] std::optional<std::size_t> best_repair(const std::vector<double>& costs) const;
  [[nodiscard]] std::optional<std::size_t> best_replacement(const std::vector<double>& costs) const;
  [[nodiscard]] std::vector<double> mean_costs() const;
  /// Mean number of devices without a known price that an option buys, discounted, with their tax.
  [[nodiscard]] double price_weight(std::size_t option) const;
  /// Pieces of each part that a plan renews now.
  [[nodiscard]] std::vector<int> pieces_of(const RepairPlan& plan) const {
    return pieces_by_part(model.c, model.positions, plan.renew_now);
  }
  /// What a plan is to buy, as it was bought for its option.
  [[nodiscard]] Purchase purchase_of(const Option& option, const std::vector<int>& pieces) const;

 private:
  void price();
  void find_repairs();
  void find_licensed();
  void run();
  [[nodiscard]] int futures_to_run() const;

  WeighSettings settings_;
  Effort effort_;
};

/// Pieces of each part that a visit may need at the most.
[[nodiscard]] std::vector<int> most_pieces_of(const DeviceModel& model);

/// Whether some replacement may have a price of its own.
[[nodiscard]] bool is_unpriced(const Case& c);

}  // namespace mendworth
