#pragma once

#include <vector>

#include "mendworth/quote.hpp"
#include "quote/bill_money.hpp"

/// Taxes on the lines of a bill.
///
/// A line of amount a holds the included taxes that apply to it. With the taxes in their order, tax i is
///     e_i = r_i * (compound ? 1 + sum of e_j over j < i that apply to the line : 1)
/// of the line's net, which is a / (1 + sum of e_i over the included ones).
/// A discount is taken apart into what it takes off the lines of each kind. Each part bears the taxes of that kind, but
/// for those from which discounts are exempt: these are on the prices before the discount.
///
/// Where taxes are rounded on the total, each is rounded once, from exact nets; where they are rounded by line,
/// once for each line. A compound tax builds on an earlier tax as it is printed, so that a reader can work it out
/// again, if that tax is added to the prices and all lines that bear it bear the compound one too. Else there is no
/// such figure on the page, and it builds on the exact one. Rounding by line takes each line for a page of its own.
namespace mendworth {

/// The taxes in the order of the shop, without those that apply to none of the lines.
[[nodiscard]] std::vector<BillTax> taxes_on(const Shop& shop, const Till& till,
                                            const std::vector<BillLine>& lines);

/// A line with its part of the taxes that are added, exactly, in units of the currency.
[[nodiscard]] Exact with_added_taxes(const Shop& shop, const Till& till, const BillLine& line);

/// The share of a sum of this kind that is left without the taxes it holds: in (0, 1].
[[nodiscard]] Exact net_share(const Shop& shop, LineKind kind);

}  // namespace mendworth
