#pragma once

#include <vector>

#include "quote/job_plan.hpp"

namespace mendworth {

/// What a plan takes from the drawer and what its first order brings, in the order of the book.
[[nodiscard]] std::vector<OrderRow> order_rows(const Case& c, const OrderBook& book, const JobPlan& plan,
                                               bool parts_from_customer);

}  // namespace mendworth
