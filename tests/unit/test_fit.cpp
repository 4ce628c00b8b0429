// Chances of fit from measured dimensions: by hand, against integration and simulation done here, and as futures draw
// them.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <optional>
#include <random>
#include <stdexcept>
#include <string>
#include <vector>

#include "futures/future.hpp"
#include "model/fit.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"
#include "support/scenario.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

constexpr double tight = 1e-9;

using Sizes = std::vector<std::optional<double>>;

Candidate sized(const Sizes& nominal, double fit = 1) {
  Candidate result = candidate("candidate", {offer(0, {{1, 1.0}})});
  result.fit = exactly(fit);
  result.nominal = nominal;
  return result;
}

Part measured_part(std::vector<Dimension> dimensions, std::vector<Candidate> candidates) {
  Part result = part("button", std::move(candidates));
  result.dimensions = std::move(dimensions);
  return result;
}

/// Chance in one dimension alone.
double chance_of(const Dimension& dimension, std::optional<double> nominal) {
  return fit_chance(measured_part({dimension}, {}), sized({nominal}));
}

/// Reproducible random numbers for the checks, of no kin to the program's own.
class Dice {
 public:
  explicit Dice(std::uint64_t start) : engine_(start) {}
  double uniform(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
  }
  int whole(int low, int high) {
    return low + static_cast<int>(uniform(0, 1) * static_cast<double>(high - low + 1));
  }

 private:
  std::mt19937_64 engine_;
};

/// Sizes about a measured 5 mm, so that fits, misfits and all between occur; some not catalogued, some limits zero.
Part random_part(Dice& dice, int dimensions, int candidates) {
  Part result = part("button", {});
  for (int d = 0; d < dimensions; ++d) {
    const double limit = dice.whole(0, 9) == 0 ? 0.0 : dice.uniform(0.01, 0.3);
    result.dimensions.push_back({"d" + std::to_string(d), dice.uniform(4.5, 5.5), limit,
                                 dice.uniform(0, 0.25), dice.uniform(0.01, 0.25)});
  }
  for (int i = 0; i < candidates; ++i) {
    Sizes nominal;
    for (const Dimension& d : result.dimensions) {
      if (dice.whole(0, 5) == 0) {
        nominal.emplace_back(std::nullopt);
      } else {
        nominal.emplace_back(d.measured + dice.uniform(-0.4, 0.4));
      }
    }
    result.candidates.push_back(sized(nominal, dice.whole(0, 2) == 0 ? dice.uniform(0, 1) : 1.0));
  }
  return result;
}

/// The definition, word for word: no smaller than the true dimension less `below`, no larger than it plus `above`.
bool fits_truth(const Part& p, const Candidate& candidate, const std::vector<double>& truth) {
  for (std::size_t d = 0; d < truth.size(); ++d) {
    if (!candidate.nominal[d]) continue;
    const double x = *candidate.nominal[d];
    if (x < truth[d] - p.dimensions[d].below || x > truth[d] + p.dimensions[d].above) return false;
  }
  return true;
}

/// Share of evenly spaced true dimensions that a size fits.
double integrated(const Dimension& d, double x) {
  constexpr int points = 20'000;
  int fit = 0;
  for (int k = 0; k < points; ++k) {
    const double truth = d.measured - d.limit + 2 * d.limit * (k + 0.5) / points;
    if (x >= truth - d.below && x <= truth + d.above) ++fit;
  }
  return static_cast<double>(fit) / points;
}

/// Chance that all of `fitting` fit, in every dimension, by the length their intervals of true dimensions share.
double all_fit(const Part& p, const std::vector<int>& fitting) {
  double chance = 1;
  for (const int i : fitting) chance *= p.candidates[static_cast<std::size_t>(i)].fit.base();
  for (std::size_t d = 0; d < p.dimensions.size(); ++d) {
    const Dimension& dimension = p.dimensions[d];
    double low = dimension.measured - dimension.limit, high = dimension.measured + dimension.limit;
    for (const int i : fitting) {
      const std::optional<double> x = p.candidates[static_cast<std::size_t>(i)].nominal[d];
      if (!x) continue;
      low = std::max(low, *x - dimension.above);
      high = std::min(high, *x + dimension.below);
    }
    if (low > high) return 0;
    if (dimension.limit > 0) chance *= (high - low) / (2 * dimension.limit);
  }
  return chance;
}

/// The chance that the last of `order` is the first that fits, by inclusion and exclusion.
double first_by_exclusion(const Part& p, const std::vector<int>& order) {
  const std::size_t before = order.size() - 1;
  double chance = 0;
  for (std::size_t subset = 0; subset < std::size_t{1} << before; ++subset) {
    std::vector<int> fitting{order.back()};
    for (std::size_t k = 0; k < before; ++k) {
      if ((subset >> k & 1U) != 0) fitting.push_back(order[k]);
    }
    chance += (fitting.size() % 2 == 1 ? 1.0 : -1.0) * all_fit(p, fitting);
  }
  return chance;
}

std::vector<int> in_order(const Part& p) {
  std::vector<int> order(p.candidates.size());
  std::iota(order.begin(), order.end(), 0);
  return order;
}

/// 5 sigma of a share out of n, and one more event where it is next to never.
double five_sigma(double chance, double n) {
  return 5 * std::sqrt(std::max(0.0, chance * (1 - chance)) / n) + 1.0 / n;
}

}  // namespace

TEST_SUITE_BEGIN("fit");

TEST_CASE("chance in one dimension, worked by hand") {
  // Derived: the true dimension T is uniform on [measured - limit, measured + limit]; size x fits if T lies in
  // [x - above, x + below].
  const Dimension stem{"stem height", 4.9, 0.1, 0.15, 0.05};  // T in 4.8 to 5.0
  CHECK(near_abs(chance_of(stem, 4.90), 0.75, tight));        // 4.85 to 5.05: 0.15 of 0.2
  CHECK(near_abs(chance_of(stem, 4.85), 1.00, tight));        // 4.80 to 5.00: all
  CHECK(near_abs(chance_of(stem, 5.00), 0.25, tight));        // 4.95 to 5.15
  CHECK(near_abs(chance_of(stem, 4.75), 0.50, tight));        // 4.70 to 4.90
  CHECK(chance_of(stem, 5.06) == 0);                          // 5.01 to 5.21: a piece too tall
  CHECK(chance_of(stem, 4.64) == 0);                          // 4.59 to 4.79: a piece too short
  CHECK(chance_of(stem, std::nullopt) == 1);                  // not catalogued, taken to fit
  // A window narrower than the doubt: 0.02 + 0.04 of 0.2.
  CHECK(near_abs(chance_of({"bore", 3.0, 0.1, 0.02, 0.04}, 3.0), 0.30, tight));
}

TEST_CASE("smaller and larger are not the same") {
  // Derived: what is measured is exactly true; a piece may be smaller by 0.3 but larger by 0.1 only.
  const Dimension body{"body", 6.0, 0.0, 0.3, 0.1};
  CHECK(chance_of(body, 5.7) == 1);  // at the limit, where 6.0 - 0.3 is not exactly 5.7 in binary
  CHECK(chance_of(body, 6.1) == 1);
  CHECK(chance_of(body, 5.69) == 0);
  CHECK(chance_of(body, 6.11) == 0);
}

TEST_CASE("dimensions and the stated chance multiply") {
  // Derived: stem 0.75 as above; body: T in 5.8 to 6.2, 6.1 fits from 5.9 to 6.3: 0.3 of 0.4; all else 0.9.
  const Part p = measured_part({{"stem height", 4.9, 0.1, 0.15, 0.05}, {"body", 6.0, 0.2, 0.2, 0.2}}, {});
  CHECK(near_abs(fit_chance(p, sized({4.9, 6.1}, 0.9)), 0.75 * 0.75 * 0.9, tight));
  CHECK(near_abs(fit_chance(p, sized({4.9, std::nullopt}, 0.9)), 0.75 * 0.9, tight));
  CHECK(fit_chance(p, sized({}, 0.9)) == 0.9);
}

TEST_CASE("a hand caliper tells stem heights apart, but not bodies that differ by a tenth") {
  // Common practice, no source: measuring by hand on a soft plastic body is good for 0.1 to 0.2 mm, so a measured 6.0
  // does not rule out a catalogued 6.1; 0.6 mm of stem height decide. A place for a body takes 0.2 mm either way.
  for (const double by_hand : {0.10, 0.15, 0.20}) {
    CAPTURE(by_hand);
    const Dimension body{"body", 6.0, by_hand, 0.2, 0.2};
    const Dimension stem{"stem height", 4.9, by_hand, 0.2, 0.2};
    CHECK(chance_of(body, 6.0) >= 0.75);
    CHECK(chance_of(body, 6.1) >= 0.75 - tight);
    CHECK(chance_of(stem, 4.9) >= 0.95);
    CHECK(chance_of(stem, 4.3) <= 0.05);
    // Derived: T in 6 - a to 6 + a, 6.1 fits from 5.9 on: (a + 0.1) / 2a.
    CHECK(near_abs(chance_of(body, 6.1), (by_hand + 0.1) / (2 * by_hand), tight));
  }
}

TEST_CASE("chances agree with integration over the true dimension") {
  Dice dice(11);
  for (int n = 0; n < 400; ++n) {
    CAPTURE(n);
    const Part p = random_part(dice, dice.whole(1, 3), 1);
    const Candidate& piece = p.candidates[0];
    double expected = piece.fit.base();
    for (std::size_t d = 0; d < p.dimensions.size(); ++d) {
      if (piece.nominal[d]) expected *= integrated(p.dimensions[d], *piece.nominal[d]);
    }
    // Two ends in each of up to three dimensions, each out by at most half a step of 1/20,000.
    CHECK(near_abs(fit_chance(p, piece), expected, 3.0 / 20'000));
  }
}

TEST_CASE("two candidates are dependent through the true dimension") {
  // Derived: T uniform on 4.8 to 5.2. A (4.9) fits from 4.8 to 5.0, B (5.1) from 5.0 to 5.2: one or the other, so B fits
  // for certain if A does not. C (5.0) fits from 4.9 to 5.1: half of the time in all, and given that A does not
  // (5.0 to 5.2) half of the time; given that B does not (4.8 to 5.0) likewise.
  const Part p =
      measured_part({{"stem height", 5.0, 0.2, 0.1, 0.1}}, {sized({4.9}), sized({5.1}), sized({5.0})});
  const FirstFit ab = first_fit(p, std::vector<int>{0, 1});
  CHECK(near_abs(ab.first[0], 0.5, tight));
  CHECK(near_abs(ab.first[1], 0.5, tight));
  CHECK(near_abs(ab.none, 0.0, tight));
  const FirstFit ac = first_fit(p, std::vector<int>{0, 2});
  CHECK(near_abs(ac.first[1] / (1 - ac.first[0]), 0.5, tight));
  CHECK(near_abs(ac.none, 0.25, tight));
  // Derived: equal sizes fit or miss together.
  const Part twins = measured_part({{"stem height", 5.0, 0.2, 0.1, 0.1}}, {sized({4.9}), sized({4.9})});
  const FirstFit both = first_fit(twins, std::vector<int>{0, 1});
  CHECK(near_abs(both.first[1], 0.0, tight));
  CHECK(near_abs(both.none, 0.5, tight));
}

TEST_CASE("stated chances stay independent of each other") {
  // Derived: 0.8; 0.2 * 0.7; the rest. With the dimension of the twins above, which both fit at 0.5:
  // 0.5 * 0.8; 0.5 * 0.2 * 0.7; the rest.
  Part p = measured_part({}, {sized({}, 0.8), sized({}, 0.7)});
  FirstFit result = first_fit(p, std::vector<int>{0, 1});
  CHECK(near_abs(result.first[0], 0.8, tight));
  CHECK(near_abs(result.first[1], 0.14, tight));
  CHECK(near_abs(result.none, 0.06, tight));
  p = measured_part({{"stem height", 5.0, 0.2, 0.1, 0.1}}, {sized({4.9}, 0.8), sized({4.9}, 0.7)});
  result = first_fit(p, std::vector<int>{0, 1});
  CHECK(near_abs(result.first[0], 0.4, tight));
  CHECK(near_abs(result.first[1], 0.07, tight));
  CHECK(near_abs(result.none, 0.53, tight));
}

TEST_CASE("nothing to try fits nothing, and a wrong order is refused") {
  const Part p = measured_part({{"stem height", 5.0, 0.2, 0.1, 0.1}}, {sized({4.9})});
  CHECK(first_fit(p, {}).none == 1);
  CHECK(first_fit(p, {}).first.empty());
  CHECK_THROWS_AS((void)first_fit(p, std::vector<int>{0, 0}), std::invalid_argument);
  CHECK_THROWS_AS((void)first_fit(p, std::vector<int>{1}), std::invalid_argument);
  CHECK_THROWS_AS((void)first_fit(p, std::vector<int>{-1}), std::invalid_argument);
}

TEST_CASE("joint chances agree with inclusion and exclusion, and add up to one") {
  Dice dice(12);
  for (int n = 0; n < 400; ++n) {
    CAPTURE(n);
    const Part p = random_part(dice, dice.whole(0, 3), dice.whole(1, 5));
    const std::vector<int> order = in_order(p);
    const FirstFit result = first_fit(p, order);
    double sum = result.none;
    std::vector<int> tried;
    for (std::size_t k = 0; k < order.size(); ++k) {
      tried.push_back(order[k]);
      CHECK(near_abs(result.first[k], first_by_exclusion(p, tried), 1e-7));
      sum += result.first[k];
    }
    CHECK(near_abs(sum, 1.0, 1e-7));
    CHECK(near_abs(result.first[0], fit_chance(p, p.candidates[0]), 1e-12));
    // The order changes who is first, not whether any fits.
    const std::vector<int> reversed(order.rbegin(), order.rend());
    CHECK(near_abs(first_fit(p, reversed).none, result.none, 1e-9));
  }
}

TEST_CASE("joint chances agree with simulation") {
  Dice dice(13);
  constexpr int draws = 50'000;
  for (int n = 0; n < 40; ++n) {
    CAPTURE(n);
    const Part p = random_part(dice, dice.whole(1, 3), 3);
    std::vector<double> truth(p.dimensions.size());
    std::vector<int> first(4);
    for (int k = 0; k < draws; ++k) {
      for (std::size_t d = 0; d < truth.size(); ++d) {
        const Dimension& from = p.dimensions[d];
        truth[d] = dice.uniform(from.measured - from.limit, from.measured + from.limit);
      }
      std::size_t at = 0;
      while (at < 3) {
        const Candidate& tried = p.candidates[at];
        const bool fits_else = dice.uniform(0, 1) < tried.fit.base();
        if (fits_else && fits_truth(p, tried, truth)) break;
        ++at;
      }
      ++first[at];
    }
    const FirstFit result = first_fit(p, in_order(p));
    const std::vector<double> chances = {result.first[0], result.first[1], result.first[2], result.none};
    for (std::size_t k = 0; k < 4; ++k) {
      CHECK(near_abs(static_cast<double>(first[k]) / draws, chances[k], five_sigma(chances[k], draws)));
    }
  }
}

TEST_CASE("futures draw one true dimension for all candidates of a part") {
  Dice dice(14);
  for (int n = 0; n < 12; ++n) {
    CAPTURE(n);
    Case c = minimal_case();
    const Part from = random_part(dice, n == 0 ? 6 : dice.whole(1, 3), 3);
    c.parts[0].dimensions = from.dimensions;
    c.parts[0].candidates = from.candidates;
    c.parts.push_back(c.parts[0]);  // the same again, with true dimensions of its own
    const Bench bench(c);
    Physics physics;
    PhysicsMemory memory;
    physics.take(bench.model.c, bench.model, memory);
    Future future(bench.model, 5);
    constexpr int futures = 40'000;
    std::vector<int> first(4);
    int both_parts = 0;
    for (int k = 0; k < futures; ++k) {
      future.begin(static_cast<std::uint64_t>(k), physics);
      int at = 0;
      while (at < 3 && !future.fits(at)) ++at;
      ++first[static_cast<std::size_t>(at)];
      if (future.fits(0) && future.fits(3)) ++both_parts;
      if (at < 3) CHECK_UNARY(future.fits(at));  // asked again: the same
    }
    const FirstFit result = first_fit(c.parts[0], std::vector<int>{0, 1, 2});
    const std::vector<double> chances = {result.first[0], result.first[1], result.first[2], result.none};
    for (std::size_t k = 0; k < 4; ++k) {
      CHECK(near_abs(static_cast<double>(first[k]) / futures, chances[k], five_sigma(chances[k], futures)));
    }
    const double both = chances[0] * chances[0];
    CHECK(near_abs(static_cast<double>(both_parts) / futures, both, five_sigma(both, futures)));
  }
}

TEST_CASE("where one of two candidates must fit, the second order always brings the cure") {
  // Derived: of true stems 4.8 to 5.2, a 4.9 fits the lower half and a 5.1 the upper one: chances of one half each, but
  // never both and never neither. Stated as one half each, neither fits in a quarter of the futures.
  Case c = minimal_case();
  c.parts[0].dimensions = {{"stem height", 5.0, 0.2, 0.1, 0.1}};
  c.parts[0].candidates.push_back(c.parts[0].candidates[0]);
  c.parts[0].candidates[0].nominal = {4.9};
  c.parts[0].candidates[1].nominal = {5.1};
  constexpr int futures = 20'000;
  const auto cured = [](const Case& of) {
    const Bench bench(of);
    return bench.run(bench.plan(Family::failed_only, 0), futures).tallies[0].counts.cured / futures;
  };
  CHECK(cured(c) == 1);
  c.parts[0].dimensions.clear();
  for (Candidate& one : c.parts[0].candidates) one.fit = exactly(0.5);
  CHECK(near_abs(cured(c), 0.75, five_sigma(0.75, futures)));
}

TEST_SUITE_END();
