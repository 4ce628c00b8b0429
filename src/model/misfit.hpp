#pragma once

#include <functional>
#include <optional>
#include <vector>

/// What it costs when a candidate turns out not to fit (src/README.md, Fit).
namespace mendworth {

/// The candidates of one part as things to try. Money in the case's currency.
struct Tries {
  int candidates = 0;  ///< 1..most_tried
  /// Chance that none of a set of candidates fits; bit k of the set stands for candidate k. For the empty set 1; never
  /// rises as the set grows.
  std::function<double(unsigned)> none_fits;
  double try_cost = 0;  ///< of a try that fails: the dry fit or the opening
  std::vector<double>
      order_again{};  ///< by candidate: ordering it afresh, waiting included; infinite: cannot be had
  /// What giving up the repair costs, beyond having a working device. Infinite: the device must be kept, so that the
  /// next candidate is ordered as long as an untried one that can be had may fit.
  double give_up = 0;
  /// What counts for ending without a working device when giving up is infinite; finite, >= 0. Absent: a hundred times
  /// all orders and tries together, so that one more chance in a hundred of a working device outweighs whatever orders
  /// could save, and a candidate is never preferred because its misfit would cost nothing.
  std::optional<double> without_device{};
};

inline constexpr int most_tried = 12;

/// Expected cost of misfits under the best way to go on: after every failure either the next candidate is ordered, the
/// one that is then best, or the repair is given up. Finite.
class MisfitCost {
 public:
  explicit MisfitCost(const Tries& tries);

  /// One candidate bought now.
  [[nodiscard]] double alone(int candidate) const;
  /// Two bought now and tried in this order.
  [[nodiscard]] double hedge(int first, int second) const;
  /// Candidates in the order in which they are tried, those `bought` now first, until the repair is given up.
  [[nodiscard]] std::vector<int> order_after(const std::vector<int>& bought) const;
  /// Chance that none of a set of candidates fits.
  [[nodiscard]] double none(unsigned set) const { return none_[set]; }

 private:
  double try_cost_, end_cost_;
  std::vector<double> none_;   // by set
  std::vector<double> go_on_;  // by set: expected cost from the moment when all of the set have failed
  std::vector<int> next_;      // by set: the candidate ordered then; -1: give up
};

}  // namespace mendworth
