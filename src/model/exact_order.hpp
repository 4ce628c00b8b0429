#pragma once

#include <span>
#include <vector>

#include "model/purchase.hpp"

/// Orders of exactly so many pieces, and larger ones that cost less. Priced beside goods for other jobs.
namespace mendworth {

/// The order of exactly these pieces with the least total + wait_days * day_cost, over all ways to divide the
/// lines among suppliers, one offer for each need. Exact, unless the limit of two million steps is met
/// (search_limited). Items in the order of the needs; of equals the first found, the cheaper lines first.
/// Absent if some need cannot be met.
[[nodiscard]] std::optional<Order> exact_order(const Case& c, std::span<const Need> needs, double day_cost);

/// Up to so many lines cheaper_in_all and enlarged divide the order anew for every quantity; beyond, where that
/// takes too long, all other lines stay with the suppliers that are cheapest for the needs as given.
inline constexpr std::size_t most_lines_divided_anew = 4;

/// Larger quantities of needs[line] with which the cheapest order of all needs costs less (total + wait_days *
/// day_cost) than with every smaller quantity from needs[line].pieces on; of needs that nobody supplies as they
/// are, the first that can be had counts as cheaper. Rising, so that the last costs least of all.
[[nodiscard]] std::vector<int> cheaper_in_all(const Case& c, std::span<const Need> needs, std::size_t line,
                                              double day_cost);

/// The needs with one line after another raised to its cheapest quantity (see cheaper_in_all), until no larger
/// quantity of any single line makes the order cost less. The needs themselves where none does.
[[nodiscard]] std::vector<Need> enlarged(const Case& c, std::vector<Need> needs, double day_cost);

/// Quantities worth trying when `need` pieces are used now and the others kept as spares: pack_quantities of the
/// need with 0 (from `least_spares` on), 1, 2, 3, 5 and 8 spares, and the next two price breaks of each offer.
/// No price matters, only ladders' steps and packs. Rising, without repetition, at most `limit`: kept first are
/// the need, one spare, the nearest breaks, more spares, the second breaks.
[[nodiscard]] std::vector<int> stocking_quantities(const Candidate& candidate, int need, int least_spares,
                                                   int limit);

}  // namespace mendworth
