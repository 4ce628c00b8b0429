#pragma once

#include <vector>

#include "futures/amounts.hpp"
#include "futures/future.hpp"
#include "futures/scene.hpp"
#include "model/plan.hpp"
#include "model/pricing.hpp"
#include "numeric/mean_error.hpp"

namespace mendworth {

/// Where the cost of one option falls in time, up to the last bin: all but the devices bought when this one is given up,
/// which follow from when that is (purchases_by).
struct Timeline {
  explicit Timeline(double step_years, int bins);
  double step;
  std::vector<double> cost, money;  ///< by bin; money as it is paid, not discounted
  std::vector<double> given_up;     ///< by bin: discounted
  void add(const Timeline& other);
};

/// Sums over futures of what happened under one option.
struct Tally {
  struct Sum {
    double amount = 0;                           ///< discounted amount of the item
    double money = 0, labour = 0, downtime = 0;  ///< at the prices of each future
  };
  /// Events counted, not discounted.
  struct Counts {
    double later_visits = 0;
    double damaged = 0, written_off = 0, cured = 0;  ///< at the visit now
    double replaced = 0;     ///< futures in which another device is bought after this one
    double endless = 0;      ///< futures cut off at the most later visits that are run
    double spares_used = 0;  ///< pieces taken from stock after the first need was met

    void add(const Counts& other);
  };
  std::vector<Sum> items;  ///< empty: costs and counts alone
  Counts counts;
  double cost = 0;
  RandomisedSums costs{};  ///< the cost, apart for each randomisation

  void reset(int item_count);
  /// All sums to nothing, the number of items as it is.
  void clear();
  void add(const Tally& other);
};

/// The choices that one future offered to a plan that never gives up: at each later failure the whole cost if the device
/// were given up there.
struct Trace {
  struct Event {
    std::size_t its_class = 0;  ///< StoppingRule::class_of
    int repairs_before = 0;
    double t = 0;
    double cost_if_given_up = 0;
  };
  std::vector<Event> events;
  double cost = 0;  ///< if it is never given up
};

/// Pieces asked for after the need now was met.
struct PieceDemand {
  int part = 0;
  int pieces = 0;
  double t = 0;
};

/// What else a run is asked for.
struct RunWishes {
  Timeline* timeline = nullptr;
  /// If given, the rule is not asked, and each choice is noted; the tally must keep no items.
  Trace* trace = nullptr;
  std::vector<PieceDemand>* demands = nullptr;
  Amounts* amounts = nullptr;  ///< what is tallied by item goes here too
  bool all_well_now = false;   ///< the visit now meets no bad luck, and what is bought fits
  /// If given, costs and tallies are at steady prices (PriceList::steady), and the cost at the prices of this future
  /// goes here.
  double* drawn_cost = nullptr;
};

/// Runs options through one future.
class Runner {
 public:
  explicit Runner(const Scene& scene);

  /// Adds to the tally, and gives the present cost.
  double run(const Option& option, Future& future, PriceList& prices, Tally& tally, const RunWishes& wishes);

 private:
  struct Stock {
    int candidate = 0;  ///< in use or tried next; -1: none left
    bool fit_known = false;
    int spares = 0;
    double usable_until = 0;
    int tried = 0;        ///< candidates tried so far, the first included
    double next_use = 0;  ///< by another device or job, once the first is drawn
    int uses = 0;
    int from_drawer = 0;  ///< of the spares, while it is not known whether they fit
    /// Pieces of other candidates, hedge and drawer: for other devices and jobs unless their turn comes.
    int aside = 0;
    double aside_until = 0;
  };
  /// How a visit ends: working, still faulty, or beyond repair.
  enum class Outcome { works, faulty, lost };

  void add(int item, double amount, double t);
  void add_flow(int item, double from, double to);
  [[nodiscard]] double worth_at(double t);
  void book(int item, double amount, double part, double t);

  void repair(const Option& option);
  bool goes_on(const Option& option, double t);
  [[nodiscard]] double cost_if_given_up(double t);
  void open_drawer(const RepairPlan& plan);
  void keep_due_only(const std::vector<int>& positions);
  Outcome visit(const RepairPlan& plan, double t, const std::vector<int>& renew);
  Outcome licensed_visit(double t, const std::vector<int>& renew);
  void open(Phase phase, double worth, double t);
  bool bring_pieces(const RepairPlan& plan, int part, int pieces, double t);
  void try_in_vain(int part, int pieces, int candidate, double t, const Supply& supply);
  void put_away(const Supply& supply, int part, int spoilt, double t);
  bool bring_one_more(int part, double t);
  void order(int part, int kind, double t);
  void install(int position, double due);
  void gather_failed(const RepairPlan& plan, double t);
  void use_spares_elsewhere(double until);
  void settle_spares();
  void use_and_sell(int part, int pieces, double until);
  void give_up(double t, Phase phase, Outcome why);
  void buy_device(int replacement);
  void leave();
  [[nodiscard]] int flat(int part, int candidate) const;

  const Scene scene_;
  // The run at hand.
  Future* future_ = nullptr;
  PriceList* prices_ = nullptr;
  RunWishes wishes_;
  Tally* tally_ = nullptr;
  double cost_ = 0;
  double worth_of_ = 0, worth_ = 1;  // the time asked for last, and the worth now of money then
  Tally::Counts counts_;
  int visits_ = 0, later_ = 0;
  int openings_ = 0, joints_ = 0;  // of the visit at hand
  int opened_ = 0, jobs_done_ = 0;
  bool any_damage_ = false;
  double walked_to_ = 0;            // until when other uses have been looked at
  std::vector<double> due_;         // per position: years from now of its next failure
  std::vector<int> renewals_;       // per position
  std::vector<Stock> stocks_;       // per part
  std::vector<Stock> kept_stocks_;  // scratch of cost_if_given_up
  std::vector<int> renew_;          // scratch: positions of a visit
  std::vector<int> pieces_;         // scratch: per part
};

}  // namespace mendworth
