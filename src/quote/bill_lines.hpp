#pragma once

#include <vector>

#include "quote/bill.hpp"
#include "quote/bill_money.hpp"

namespace mendworth {

/// The lines of a job, without taxes, in the order of the page: diagnosis, labour, parts, consumables, shipping,
/// rush, collection, discount. Shares are taken of the printed sums of other lines. Lines of nothing are left out,
/// but for the labour.
///
/// A band of the markup may hold a lower multiple than the band below it, so a piece just over a limit may be sold
/// for less than one just under it: that is what the bands say.
[[nodiscard]] std::vector<BillLine> job_lines(const Shop& shop, const Till& till, double charge_rate,
                                              const Case& c, const JobWork& work, const BillWishes& wishes);

}  // namespace mendworth
