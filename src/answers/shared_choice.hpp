#pragma once

#include <vector>

#include "answers/shared_shop.hpp"

namespace mendworth {

/// Which jobs to repair with one order.
struct SharedChoice {
  std::vector<char> chosen;   ///< by job
  SharedShop::Search search;  ///< of these
  double cost = 0;            ///< net of the order, less what the repairs are worth without their pieces
  double bound = 0;           ///< no choice costs less
  bool proved = true;
  std::vector<std::size_t> given_up;  ///< jobs that must be repaired and cannot, in whatever order
};

/// The work that goes into the basket of one set out of many: less of it, the more jobs there are.
[[nodiscard]] SharedShop::Effort effort_of_one_set(std::size_t jobs);

/// The choice of least cost, by branch and bound over the sets of repairs: each is one basket, and a part of them is left
/// out where not even the cheapest goods from any suppliers, with the least that these ask for a parcel, cost less than
/// the best set so far. Stops after `most_orders` baskets or so many steps of work: then with a bound. Of sets that cost
/// the same the one with more repairs.
[[nodiscard]] SharedChoice choose_repairs(const std::vector<OrderJob>& jobs, const SharedShop& shop,
                                          int most_orders);

}  // namespace mendworth
