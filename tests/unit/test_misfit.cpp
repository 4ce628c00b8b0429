#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "model/misfit.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

namespace {

/// Candidates that fit independently of each other.
Tries independent(std::vector<double> fits, double try_cost, std::vector<double> order_again,
                  double give_up) {
  const int count = static_cast<int>(fits.size());
  return {.candidates = count,
          .none_fits =
              [fits](unsigned set) {
                double none = 1;
                for (std::size_t k = 0; k < fits.size(); ++k) {
                  if ((set >> k & 1U) != 0) none *= 1.0 - fits[k];
                }
                return none;
              },
          .try_cost = try_cost,
          .order_again = std::move(order_again),
          .give_up = give_up};
}

constexpr double infinite = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("misfit: one candidate that may not fit costs its try and giving up") {
  // Derived: 0.3 * (4 + 50) = 16.2.
  const MisfitCost misfit(independent({0.7}, 4, {infinite}, 50));
  CHECK(near_abs(misfit.alone(0), 16.2, 1e-12));
  CHECK(misfit.order_after({0}) == std::vector<int>{0});
}

TEST_CASE("misfit: ordering the next one is weighed against giving up") {
  // Derived: after the first has failed (0.3), the second costs 10 and fails with 0.5, which costs 4 and giving up:
  // 0.3 * (4 + 10 + 0.5 * (4 + 50)) = 0.3 * 41 = 12.3; giving up at once would be 16.2.
  const MisfitCost misfit(independent({0.7, 0.5}, 4, {infinite, 10}, 50));
  CHECK(near_abs(misfit.alone(0), 12.3, 1e-12));
  CHECK(misfit.order_after({0}) == std::vector<int>{0, 1});
  // With both at hand the order of 10 falls away: 0.3 * 4 + 0.15 * (4 + 50) = 9.3.
  CHECK(near_abs(misfit.hedge(0, 1), 9.3, 1e-12));

  const MisfitCost cheap_exit(independent({0.7, 0.5}, 4, {infinite, 10}, 12));
  // Giving up costs 0.3 * (4 + 12) = 4.8; going on 0.3 * (4 + 10 + 0.5 * 16) = 6.6.
  CHECK(near_abs(cheap_exit.alone(0), 4.8, 1e-12));
  CHECK(cheap_exit.order_after({0}) == std::vector<int>{0});
}

TEST_CASE("misfit: candidates that fit or fail together make a hedge worthless") {
  const MisfitCost misfit({.candidates = 2,
                           .none_fits = [](unsigned set) { return set == 0 ? 1.0 : 0.3; },
                           .try_cost = 1,
                           .order_again = {5, 5},
                           .give_up = 20});
  // Derived: alone 0.3 * (1 + 20); the hedge adds a try that cannot succeed: 0.3 * (1 + 1 + 20).
  CHECK(near_abs(misfit.alone(0), 6.3, 1e-12));
  CHECK(near_abs(misfit.hedge(0, 1), 6.6, 1e-12));
}

TEST_CASE("misfit: where a device must be kept the next is ordered as long as one is left") {
  // Derived: the second costs 10 again and fails with 0.5: 0.3 * (4 + 10 + 0.5 * (4 + 1000)) = 154.8.
  Tries tries = independent({0.7, 0.5}, 4, {infinite, 10}, infinite);
  tries.without_device = 1000;
  const MisfitCost misfit(tries);
  CHECK(near_abs(misfit.alone(0), 154.8, 1e-9));
  CHECK(misfit.order_after({0}) == std::vector<int>{0, 1});
  // However dear: giving up for nothing would be cheaper, but is not allowed.
  tries.without_device = 0;
  CHECK(near_abs(MisfitCost(tries).alone(0), 0.3 * (4 + 10 + 0.5 * 4), 1e-9));
  // One that cannot fit is not ordered.
  const MisfitCost never(independent({0.7, 0.0}, 4, {infinite, 10}, infinite));
  CHECK(never.order_after({0}) == std::vector<int>{0});
}

TEST_CASE(
    "misfit: where a device must be kept the candidate that fits costs less than one that rarely does") {
  // Neither can be ordered again, so that a failed one ends without a device.
  const MisfitCost misfit(independent({0.1, 0.9}, 0, {infinite, infinite}, infinite));
  CHECK(std::isfinite(misfit.alone(0)));
  CHECK(near_abs(misfit.alone(0), 90.0, 1e-9));  // 0.9 * 100, nothing being at stake but a unit of money
  CHECK(near_abs(misfit.alone(1), 10.0, 1e-9));
  // Both again: 0.01 more chance outweighs all orders and tries, 2 * 5 + 30 + 40 = 80, so that to end without a device
  // counts 8000: 0.5 * (5 + 40 + 0.5 * (5 + 8000)).
  const MisfitCost both(independent({0.5, 0.5}, 5, {30, 40}, infinite));
  CHECK(near_abs(both.alone(0), 2023.75, 1e-9));
}

TEST_CASE("misfit: the numbers are those of a simulation that follows the chosen order") {
  std::mt19937_64 engine(20);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  for (int trial = 0; trial < 20; ++trial) {
    const std::vector<double> fits{uniform(engine), uniform(engine), uniform(engine)};
    const std::vector<double> again{5 + 10 * uniform(engine), 5 + 10 * uniform(engine),
                                    5 + 10 * uniform(engine)};
    const double try_cost = 5 * uniform(engine);
    const double give_up = 60 * uniform(engine);
    const MisfitCost misfit(independent(fits, try_cost, again, give_up));
    const std::vector<int> order = misfit.order_after({0, 1});
    constexpr int runs = 200'000;
    double sum = 0, squares = 0;
    for (int i = 0; i < runs; ++i) {
      double cost = 0;
      bool fitted = false;
      for (std::size_t n = 0; n < order.size() && !fitted; ++n) {
        const auto k = static_cast<std::size_t>(order[n]);
        if (n >= 2) cost += again[k];  // the first two are at hand
        fitted = uniform(engine) < fits[k];
        if (!fitted) cost += try_cost;
      }
      if (!fitted) cost += give_up;
      sum += cost;
      squares += cost * cost;
    }
    const double mean = sum / runs;
    const double error = std::sqrt((squares / runs - mean * mean) / runs);
    CHECK(near_abs(misfit.hedge(0, 1), mean, 5 * error + 1e-9));
  }
}
