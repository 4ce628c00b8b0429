#pragma once

#include <vector>

/// A stock of pieces that a Poisson stream of demands takes one by one, none being added.
namespace mendworth {

/// uses[n], n = 0..most: expected number of demands that find a piece in a stock of n until the time `until`, each
/// discounted to now with exp(-log_growth * its time). The i-th demand comes at T_i, which is gamma distributed with
/// shape i and the stream's rate, so uses[n] is the sum over i <= n of E[exp(-log_growth T_i); T_i <= until]
/// = (rate/k)^i P(i, k until), k = rate + log_growth > 0, P the regularised lower incomplete gamma function.
/// rate >= 0 a year, until >= 0 years; throws std::domain_error for anything else.
[[nodiscard]] std::vector<double> stock_uses(int most, double rate, double until, double log_growth);

/// left[n], n = 0..most: expected number of pieces of a stock of n that are left at the time `at`: the sum over i <= n
/// of the chance that fewer than i demands have come, which is Q(i, rate at). Same ranges and errors.
[[nodiscard]] std::vector<double> stock_left(int most, double rate, double at);

/// uses[pieces] and left[pieces] of one stock, both until the same time.
struct StockCourse {
  double uses = 0, left = 0;
};
/// The same as the last of stock_uses and of stock_left, with two exponentials and no gamma function where recurrences are
/// exact enough. Same ranges and errors.
[[nodiscard]] StockCourse stock_course(int pieces, double rate, double until, double log_growth);

}  // namespace mendworth
