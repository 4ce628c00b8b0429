#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/money.hpp"
#include "mendworth/weigh.hpp"

/// Several jobs and one order: which devices to repair, and what to order for all of them at once (src/README.md, Shared
/// orders). Amounts are in the currency of the cases, unrounded, expected present cost unless they are Money. Every double
/// is finite.
namespace mendworth {

/// How a shared order is worked out.
struct SharedOrderSettings {
  std::uint64_t seed = 1;  ///< of the random numbers, the same for every case
  int futures = 0;         ///< as in WeighSettings: for each case
  int threads = 0;         ///< 0: as many as the machine has; never changes an answer
  int most_orders =
      4096;  ///< sets of repairs that are priced at the most, 1..1'000'000; then the search stops
};

/// One device.
struct SharedJob {
  std::string source_name;  ///< the case's file
  std::string device;       ///< its name
  std::string repair;       ///< the best repair plan; empty: there is none
  /// The best course but a repair, of a device that is stripped for parts the best replacement; empty: there is none.
  std::string instead;
  bool repaired = false;  ///< with this order
  bool stripped = false;  ///< good pieces are taken out of it for others
  bool must_be =
      false;  ///< there is no other course, or none with a price: it is repaired if the pieces can be had
  /// What the repair costs less than the best other course if its pieces cost nothing; 0 where `must_be` or without a
  /// repair.
  double value = 0;
  double value_error = 0;  ///< standard error of `value`

  /// Ordered for itself, as `buy` would.
  struct Alone {
    double landed = 0;  ///< of the best basket
    double net = 0;     ///< with waiting and misfit, less what leftovers are worth
    bool pays = false;  ///< the repair is worth it then, or must be
  };
  std::optional<Alone>
      alone{};  ///< absent: there is no repair, or its pieces cannot be had in an order of its own

  // What follows is 0 unless `repaired`.
  Money share{};              ///< of what the order costs at the doorstep; the shares add up to the order
  double taken_cost = 0;      ///< of pieces that are not ordered: SharedTaken::cost
  double wait_days = 0;       ///< until the last of its pieces is there
  double wait_cost = 0;       ///< of these days
  double misfit_cost = 0;     ///< expected
  double leftover_worth = 0;  ///< its share of what the order's leftovers are worth
  /// What the order would cost less, net, without this job, and the others as they are; absent: the others could not be
  /// ordered then.
  std::optional<double> adds{};

  /// What is paid for its pieces, all in all.
  [[nodiscard]] double net(const Currency& currency) const {
    return in_units(share, currency) + taken_cost + wait_cost + misfit_cost - leftover_worth;
  }
};

/// A line of the order, and for which jobs it is.
struct SharedLine {
  OrderLine line;  ///< `needed` by all jobs together
  /// A job and what it needs.
  struct For {
    std::size_t job = 0;  ///< index into SharedOrder::jobs
    int pieces = 0;       ///< that the job needs of this part, >= 1
  };
  std::vector<For> jobs;  ///< by rising index
};

/// Pieces that need not be ordered: of the drawer, or of a device that is given up.
struct SharedTaken {
  std::string part;                 ///< the part they serve as
  std::string candidate;            ///< the candidate whose place they take
  std::optional<std::size_t> from;  ///< index into SharedOrder::jobs; absent: the drawer
  int pieces = 0;                   ///< taken
  /// Of the drawer: what they would save elsewhere. Of a device: its opening and the minutes of taking them out, what
  /// being replaced costs it more than its best other course, and what their age is expected to cost who gets them.
  double cost = 0;
  std::vector<SharedLine::For> jobs;  ///< that want the part
};

/// The answer for all devices.
struct SharedOrder {
  std::string currency;            ///< of all cases, ISO 4217
  int minor_digits = 2;            ///< of the currency
  SharedOrderSettings settings;    ///< as used; threads left out of every output
  std::vector<SharedJob> jobs;     ///< as the cases were given
  std::vector<SharedLine> lines;   ///< empty: nothing is ordered
  std::vector<SharedTaken> taken;  ///< pieces that need not be ordered
  OrderAnswer order;               ///< of all jobs; its lines are those above, `plan` is empty
  double taken_cost = 0;           ///< of all pieces taken
  double wait_cost = 0;            ///< of all jobs
  double misfit_cost = 0;          ///< of all jobs, expected
  double net = 0;                  ///< landed, taken, waiting and misfit, less what leftovers are worth
  /// What all jobs together cost less than if each were decided and ordered for itself; negative: a shared order costs
  /// more. Absent: a job that must be repaired cannot be ordered for itself.
  std::optional<double> together_saves{};
  /// No other set of repairs, and no other basket for this one, costs less in all ...
  bool proved = true;
  double gap = 0;                           ///< ... else none costs less by more than this
  std::vector<Weighing::Caution> cautions;  ///< of the devices that are repaired
  std::vector<std::string> notes;           ///< what a reader should know beside the figures
};

/// Decides on a set of devices with one order for all that are repaired. Deterministic in (cases, seed, futures,
/// most_orders); the order of the cases changes nothing but that of the jobs. Throws InputError if the cases have
/// different currencies, or state different terms of a supplier or different offers of one supplier for the same piece;
/// std::invalid_argument if there is no case, a setting is out of range or a part has no candidates.
///
/// Suppliers are the same if their names are; all they state must then be the same. Parts are the same if their names and
/// the names of their candidates, in order, are: their pieces are bought together, all of one candidate (or a hedge), in
/// one line, and a price break counts them all. Offers of the same part are pooled. A candidate that stands in two
/// different parts is bought in two lines, which share no break.
///
/// A device that is replaced may be stripped for its working originals, which serve parts of the same name; a
/// spill spares none. They cost the minutes that a repair of the device and of their positions takes, and what an earlier
/// failure of an aged piece is expected to cost: the discounted chance that it fails before the need or the device ends,
/// by the stated life of the original given its age, less that of a new piece, times the cost of one later failure. Of
/// many such devices the twelve of which a piece is had for the least work are looked at, and nothing is proved then.
[[nodiscard]] SharedOrder shared_order(const std::vector<Case>& cases, const RateBook& rates,
                                       const SharedOrderSettings& settings);

}  // namespace mendworth
