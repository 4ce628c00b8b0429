#include "numeric/root.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace mendworth {
namespace {

using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

// A sign change between two places whose values are not zero.
struct Bracket {
  double low, high;
  double value_low, value_high;
};

}  // namespace

Crossings find_crossings(const std::function<double(double)>& f, double low, double high, int points,
                         double relative_width, int max_steps) {
  if (!std::isfinite(low) || !std::isfinite(high) || !(low < high)) {
    throw std::domain_error("crossings are sought in a range that rises");
  }
  if (points < 2) throw std::domain_error("crossings need at least 2 scan places");
  if (!(relative_width > 0)) throw std::domain_error("crossings need a width above 0");
  if (max_steps < 1) throw std::domain_error("crossings need at least 1 step");

  const auto value = [&f](double x) {
    const double y = f(x);
    if (!std::isfinite(y)) throw std::domain_error("a function whose zero is sought must stay finite");
    return y;
  };

  Crossings result;
  const double width = relative_width * (high - low);
  const auto narrow = [&](const Bracket& bracket) {
    auto steps = static_cast<std::uintmax_t>(max_steps);
    const auto narrow_enough = [width](double a, double b) { return b - a <= width; };
    const auto [a, b] = boost::math::tools::toms748_solve(value, bracket.low, bracket.high, bracket.value_low,
                                                          bracket.value_high, narrow_enough, steps, Policy());
    // The solver says nothing when it runs out of steps.
    result.widest = std::max(result.widest, b - a);
    result.at.push_back(a + (b - a) / 2);
  };

  double left = low;
  double value_left = value(low);
  result.value_low = value_left;
  if (value_left == 0) result.at.push_back(low);
  for (int i = 1; i < points; ++i) {
    const double x = i == points - 1 ? high : low + (high - low) * i / (points - 1);
    const double y = value(x);
    if (y == 0) {
      if (value_left != 0) result.at.push_back(x);
    } else if (value_left != 0 && (y > 0) != (value_left > 0)) {
      narrow({left, x, value_left, y});
    }
    left = x;
    value_left = y;
  }
  result.value_high = value_left;
  return result;
}

}  // namespace mendworth
