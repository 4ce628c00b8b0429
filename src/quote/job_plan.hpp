#pragma once

#include <vector>

#include "answers/contest.hpp"
#include "quote/bill.hpp"

namespace mendworth {

/// One choice of the customer as a job of the shop: the plan behind it and what it takes if all goes well.
struct JobPlan {
  CustomerChoice::Kind kind = CustomerChoice::Kind::failed_only;
  Option option{};            ///< the visit now, and returns of the new pieces
  std::vector<int> groups{};  ///< of every renewed position, in the order of the work
  std::vector<int> pieces{};  ///< per part
  JobWork work{};
  double order_cost = 0;  ///< landed
  int leftovers = 0;      ///< pieces in the drawer afterwards that the order brought, hedges not counted
  int days_low = 0, days_high = 0;
};

/// What one piece costs without shipping, with the tax on it and the exchange fee, in the case's currency.
[[nodiscard]] double piece_cost(const Case& c, const OrderItem& item);

/// The choices of a contest that has been held, the narrowest first: the failed positions; their mates too; every
/// original, where that is more. What is bought is what serves best if the device never comes back, as leftovers are
/// the shop's. Empty if the failed parts cannot be had.
[[nodiscard]] std::vector<JobPlan> job_plans(const Contest& contest, const Shop& shop,
                                             bool parts_from_customer);

}  // namespace mendworth
