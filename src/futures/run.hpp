#pragma once

#include <span>
#include <vector>

#include "futures/future.hpp"
#include "model/items.hpp"
#include "model/plan.hpp"
#include "model/pricing.hpp"

namespace mendworth {

/// Where the cost of one option falls in time, for questions about time: evenly spaced bins up to the horizon.
struct Timeline {
  explicit Timeline(int bins) : cost(static_cast<std::size_t>(bins), 0.0) {}
  std::vector<double> cost;
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
    double other_device = 0;  ///< futures in which another device is bought after giving up
    double endless = 0;       ///< futures cut off at the most later visits that are run
    double spares_used = 0;   ///< pieces taken from stock after the first need was met

    void add(const Counts& other);
  };
  std::vector<Sum> items;  ///< empty: costs and counts alone
  Counts counts;
  double cost = 0, cost_squared = 0;

  void reset(int item_count);
  /// All sums to nothing, the number of items as it is.
  void clear();
  void add(const Tally& other);
  /// Raises the cost by `shift`, spread over the items by what each weighs: what is nothing stays nothing.
  void shift_cost(double shift);
};

/// One option with what it runs against and where its results go.
struct Lane {
  const Option* option = nullptr;
  int fallback = -1;  ///< the replacement bought when a device is lost or given up; -1: none
  Tally* tally = nullptr;
  Timeline* timeline = nullptr;  ///< null: not wanted
  double cost = 0;               ///< out: present cost in this future
};

/// Whether two options may share a run: repair plans alike in all but the limit of later visits.
[[nodiscard]] bool can_share(const Lane& a, const Lane& b);

/// Runs options through one future.
class Runner {
 public:
  Runner(const DeviceModel& model, const OrderBook& book);

  /// Runs lanes that can_share with each other, in the order of rising limits: what they have in common happens
  /// once, and each branches off where its limit is reached. A single lane is the plain case.
  void run(std::span<Lane> lanes, Future& future, PriceList& prices);

 private:
  struct Stock {
    int candidate = 0;  ///< in use or tried next; -1: none left
    bool fit_known = false;
    int spares = 0;
    double usable_until = 0;
    int tried = 0;            ///< candidates tried so far, the first included
    double next_use = never;  ///< by another device or job
    int uses = 0;
    int from_drawer = 0;  ///< of the spares, while it is not known whether they fit
    /// Pieces of other candidates, hedge and drawer: for other devices and jobs unless their turn comes.
    int aside = 0;
    double aside_until = 0;
  };
  /// Something that happened, to be booked when the lane ends.
  struct Entry {
    int item;
    double amount;
    double t;
  };

  void add(int item, double amount, double t);
  void add_flow(int item, double from, double to);
  [[nodiscard]] double worth_at(double t) const;
  void book(Lane& lane) const;
  [[nodiscard]] double priced() const;
  double booked(Lane& lane) const;

  void repair(std::span<Lane> lanes);
  void open_drawer(const RepairPlan& plan);
  void keep_due_only(const std::vector<int>& positions);
  void branch_off(Lane& lane, double t);
  /// How a visit ends: working, still faulty, or beyond repair.
  enum class Outcome { works, faulty, lost };
  Outcome visit(const RepairPlan& plan, double t, const std::vector<int>& renew);
  Outcome licensed_visit(double t, const std::vector<int>& renew);
  bool bring_pieces(const RepairPlan& plan, int part, int pieces, double t, int& openings);
  void put_away(const Supply& supply, int part, int spoilt, double t);
  bool bring_one_more(const RepairPlan& plan, int part, double t);
  void install(int position, double due);
  void gather_failed(const RepairPlan& plan, double t);
  void use_spares_elsewhere(double until);
  void settle_spares();
  void give_up(double t, int fallback, Phase phase, Outcome why);
  void devices_from(double t, int replacement, Phase phase);
  [[nodiscard]] double learning(int n) const;
  [[nodiscard]] int flat(int part, int candidate) const;

  const DeviceModel& model_;
  const OrderBook& book_;
  // The run at hand.
  Future* future_ = nullptr;
  PriceList* prices_ = nullptr;
  bool timed_ = false;  // a timeline is wanted: flows are spread over its bins
  std::size_t bins_ = 0;
  std::vector<Entry> journal_;  // the first journal_size_ entries count
  std::size_t journal_size_ = 0;
  std::size_t last_branch_ = 0;  // entries before it are closed
  Tally::Counts counts_;
  int visits_ = 0;
  int jobs_done_ = 0;
  bool any_damage_ = false;
  std::vector<double> due_;         // per position: years from now of its next failure
  std::vector<int> renewals_;       // per position
  std::vector<Stock> stocks_;       // per part
  std::vector<Stock> kept_stocks_;  // scratch of branch_off
  std::vector<int> renew_;          // scratch: positions of a visit
  std::vector<int> pieces_;         // scratch: per part
};

}  // namespace mendworth
