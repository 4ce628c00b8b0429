#include "numeric/learning.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace mendworth {

double learning_factor(int n, double rate, double floor) {
  if (n < 1) throw std::domain_error("repetitions are counted from 1");
  if (!(rate > 0 && rate <= 1)) throw std::domain_error("a learning rate must be above 0 and at most 1");
  if (!(floor >= 0 && floor <= 1)) throw std::domain_error("a learning floor must be between 0 and 1");
  return std::max(floor, std::pow(static_cast<double>(n), std::log2(rate)));
}

}  // namespace mendworth
