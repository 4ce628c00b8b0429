#pragma once

#include <map>
#include <optional>
#include <span>

#include "model/purchase.hpp"

/// Every question of a bulk what-if about what to order and what it costs at the doorstep. Prices at their base.
namespace mendworth {

/// Pieces of a part that an order brings.
[[nodiscard]] int pieces_of(const Order& order, int part);

/// The most pieces that the candidate's offers have between them; absent where some offer states no stock.
[[nodiscard]] std::optional<int> most_to_be_had(const Candidate& candidate);

/// What a piece that is missing costs unless the case says so: the cheapest later order of a single piece, of any
/// candidate, placing it, and the downtime of its wait.
[[nodiscard]] double usual_shortage_cost(const Case& c, int part);

/// Days until the pieces of one repair are there, by the order that is cheapest with its wait. `pieces_per_job` stands
/// for the number of failed positions.
[[nodiscard]] double lead_days_of_one_repair(const Case& c, std::optional<int> pieces_per_job);

/// The lots of one candidate by the pieces wanted, each worked out once. `c` must outlive this.
class Lots {
 public:
  /// A day's wait for the order costs `day_cost`.
  Lots(const Case& c, int part, int candidate, Parcel parcel, double day_cost)
      : c_(c), part_(part), candidate_(candidate), parcel_(parcel), day_cost_(day_cost) {}

  struct Lot {
    int pieces = 0;  ///< that it brings
    Order order;
  };
  /// The cheapest lot of at least `pieces` >= 1; null if they cannot be had. Stays valid.
  [[nodiscard]] const Lot* of_at_least(int pieces);

 private:
  struct Known {
    int from = 0;  ///< the least number of pieces for which it is known to be the cheapest
    Lot lot;
  };
  const Case& c_;
  int part_, candidate_;
  Parcel parcel_;
  double day_cost_;
  std::map<int, Known> known_;  // by the pieces that it brings
};

}  // namespace mendworth
