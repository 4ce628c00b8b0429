#include "domain/adding_up.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <stdexcept>

namespace mendworth {

std::vector<Money> adding_up(const std::vector<double>& expected, Money total, const Currency& currency) {
  const double per_unit = std::pow(10.0, currency.minor_digits);
  std::vector<Money> sums;
  std::vector<double> taken;  // by rounding, in minor units
  Money missing = total;
  for (const double value : expected) {
    const Money sum = rounded(value, currency);
    sums.push_back(sum);
    taken.push_back(value * per_unit - static_cast<double>(sum.minor));
    missing += -sum;
  }
  const std::int64_t step = missing.minor < 0 ? -1 : 1;
  const auto steps = static_cast<std::size_t>(std::abs(missing.minor));
  if (steps > sums.size()) {
    throw std::invalid_argument("sums that do not add up to the total, even unrounded");
  }

  std::vector<std::size_t> order(sums.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return static_cast<double>(step) * taken[a] > static_cast<double>(step) * taken[b];
  });
  for (std::size_t i = 0; i < steps; ++i) sums[order[i % order.size()]] += {step};
  return sums;
}

}  // namespace mendworth
