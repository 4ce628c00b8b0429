#pragma once

#include <vector>

#include "model/order_book.hpp"

/// In which order the candidates of a part are tried when one turns out not to fit.
namespace mendworth {

/// Chance that a candidate fits, at base: stated and by its measured dimensions.
[[nodiscard]] double fit_chance(const Case& c, int part, int candidate);

/// What one misfit costs beside the pieces: a dry fit, or an opening with the work on one position. Case currency, at
/// base; 0 where no position takes the part.
[[nodiscard]] double misfit_cost(const Case& c, int part);

/// All candidates of a part, `first` in front, `hedge` (-1: none) behind it, and the others so that the expected cost
/// of going on until one fits is least: by rising (order + misfit) / chance of fit, the rule that an exchange of two
/// neighbours gives if fits are independent. Equals stay in the case's order, counted on from `first`.
/// `orders[candidate]` is the kind of order that brings the pieces; -1: nobody supplies them, which comes last.
[[nodiscard]] std::vector<int> trial_order(const Case& c, const OrderBook& book, int part, int first,
                                           int hedge, const std::vector<int>& orders);

}  // namespace mendworth
