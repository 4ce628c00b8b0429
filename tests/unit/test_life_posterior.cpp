#include "model/life_posterior.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <boost/math/quadrature/tanh_sinh.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "numeric/distributions.hpp"
#include "numeric/random.hpp"
#include "numeric/sampler.hpp"
#include "numeric/weibull.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;
using mendworth::test::near_rel;

TEST_SUITE_BEGIN("life posterior");

namespace {

using Evidence = std::vector<WearEvidence>;

LifePrior prior_of(double life_spread, const Quantity& shape, double shape_spread = 1, double failed = 0.10) {
  LifePrior prior;
  prior.rated_life = Quantity::exactly(100000);
  prior.failed_at_rated = failed;
  prior.life_spread = life_spread;
  prior.shape = shape;
  prior.shape_spread = shape_spread;
  return prior;
}

double log_likelihood(const Evidence& evidence, double shape, double y) {
  double sum = 0;
  for (const WearEvidence& item : evidence) {
    const double x = shape * (std::log(item.ratio) - y);
    double one = -std::exp(x) * (1 - std::pow(item.watched_from / item.ratio, shape));
    if (item.failed) one += std::log(shape) - std::log(item.ratio) + x;
    sum += item.count * one;
  }
  return sum;
}

// Prior x likelihood x f, integrated over y (tanh-sinh, prior deviation by prior deviation, so that no spike
// of the likelihood is missed) and ln shape (midpoints), between wide limits: the definition with nothing
// clever about it. `level` is taken off the log-likelihood to keep it in range.
double integrate(const LifePrior& prior, const Evidence& evidence, double z, double level,
                 const std::function<double(double shape, double y)>& f) {
  boost::math::quadrature::tanh_sinh<double> rule;
  const double deviation = std::log(prior.life_spread);
  const auto over_y = [&](double shape) {
    const double centre = z - std::log(-std::log1p(-prior.failed_at_rated)) / shape;
    double sum = 0;
    for (int piece = -15; piece < 15; ++piece) {
      sum += rule.integrate(
          [&](double x) {
            const double v = piece + 0.5 + 0.5 * x;
            const double y = centre + v * deviation;
            return std::exp(log_likelihood(evidence, shape, y) - level - v * v / 2) * f(shape, y);
          },
          1e-7);
    }
    return sum;
  };
  const double base = prior.shape.base();
  if (prior.shape_spread == 1) return over_y(base);
  constexpr int places = 64;
  double sum = 0;
  for (int i = 0; i < places; ++i) {
    const double t = -8 + 16 * (i + 0.5) / places;
    sum += std::exp(-t * t / 2) * over_y(base * std::pow(prior.shape_spread, t));
  }
  return sum / places;
}

double one(double, double) { return 1; }

double brute_failure_chance(const LifePrior& prior, const Evidence& evidence, double z, double level,
                            double ratio, double further) {
  const auto fails = [&](double shape, double y) {
    return -std::expm1(-std::exp(-shape * y) * (std::pow(ratio + further, shape) - std::pow(ratio, shape)));
  };
  return integrate(prior, evidence, z, level, fails) / integrate(prior, evidence, z, level, one);
}

// Mean over draws of the chance to fail; the additive recurrence of the golden ratio's cousin fills the
// square evenly.
double drawn_failure_chance(const LifePosterior& posterior, double z, double ratio, double further) {
  constexpr int count = 100000;
  double sum = 0;
  for (int i = 0; i < count; ++i) {
    const double a = 0.5 + (i + 1) * 0.7548776662466927;
    const double b = 0.5 + (i + 1) * 0.5698402909980532;
    const LifeDraw draw = posterior.draw(z, a - std::floor(a), b - std::floor(b));
    sum += conditional_failure({std::exp(draw.log_scale), draw.shape}, ratio, further);
  }
  return sum / count;
}

const Evidence mixed = {{1, true, 1}, {0.7, false, 3}, {0.15, false, 4}};
// The same, bought used at six tenths of its wear.
const Evidence watched = {{1, true, 1, 0.6}, {0.7, false, 3, 0.42}, {0.15, false, 4, 0.09}};

}  // namespace

// Derived: a flat prior on ln scale and a known shape integrate to 1 - (S/(S + dU))^r, S the sum of
// ratio^shape over all positions, r the failures, dU = (q + x)^shape - q^shape.
TEST_CASE("closed form of a flat prior") {
  const double flat = 1e250;
  struct Row {
    Evidence evidence;
    double shape, ratio, further;
  };
  const std::vector<Row> rows = {{{{1, true, 1}, {1, false, 1}}, 2, 1, 0.5},
                                 {{{1, true, 1}, {0.3, false, 5}}, 2, 0.3, 1},
                                 {{{1, true, 2}, {0.8, true, 1}, {0.5, false, 7}}, 1.4, 0.5, 0.2},
                                 {{{1, true, 1}, {1, false, 30}}, 3.5, 1, 0.1},
                                 {{{1, true, 6}}, 0.7, 2, 3},
                                 // Bought used: what was survived before is no evidence.
                                 {{{1, true, 1, 0.5}, {0.3, false, 5, 0.15}}, 2, 0.3, 1},
                                 {{{1, true, 2, 0.99}, {0.8, false, 3}}, 1.4, 0.8, 0.2}};
  for (const Row& row : rows) {
    double worn = 0;
    int failures = 0;
    for (const WearEvidence& item : row.evidence) {
      worn += item.count * (std::pow(item.ratio, row.shape) - std::pow(item.watched_from, row.shape));
      if (item.failed) failures += item.count;
    }
    const double added = std::pow(row.ratio + row.further, row.shape) - std::pow(row.ratio, row.shape);
    const double expected = 1 - std::pow(worn / (worn + added), failures);
    const LifePosterior posterior(prior_of(flat, Quantity::exactly(row.shape)), row.evidence, 1.2, 1.2);
    CHECK(near_abs(posterior.failure_chance(1.2, row.ratio, row.further), expected, 2e-5));
    CHECK(near_abs(drawn_failure_chance(posterior, 1.2, row.ratio, row.further), expected, 3e-4));
  }
}

// Derived: drawing from the prior and weighing by the likelihood (self-normalised importance sampling) is another way
// to the same integral; its own standard error sets the tolerance.
TEST_CASE("importance sampling gives the same chances") {
  for (const Evidence& evidence : {mixed, watched}) {
    for (const double shape_spread : {1.0, 1.5}) {
      const LifePrior prior = prior_of(2.5, Quantity::exactly(1.8), shape_spread);
      const double z = 0.4;
      const LifePosterior posterior(prior, evidence, z, z);
      const RandomBlocks random(7);
      constexpr int count = 200000;
      double weights = 0, sum = 0, squares = 0, cross = 0, squared_weights = 0;
      for (int i = 0; i < count; ++i) {
        const auto u = random(Stream::lives, static_cast<std::uint64_t>(i), 0);
        const double shape = 1.8 * std::exp(std::log(shape_spread) * normal_quantile(u[0]));
        const double y = z - std::log(-std::log1p(-0.1)) / shape + std::log(2.5) * normal_quantile(u[1]);
        const double weight = std::exp(log_likelihood(evidence, shape, y));
        const double fails = conditional_failure({std::exp(y), shape}, 0.7, 0.5);
        weights += weight;
        sum += weight * fails;
        squares += weight * weight * fails * fails;
        cross += weight * weight * fails;
        squared_weights += weight * weight;
      }
      const double chance = sum / weights;
      const double error =
          std::sqrt(squares - 2 * chance * cross + chance * chance * squared_weights) / weights;
      CAPTURE(shape_spread);
      CHECK(error < 0.002);
      CHECK(near_abs(posterior.failure_chance(z, 0.7, 0.5), chance, 4 * error));
    }
  }
}

// Derived: the same closed form for equally worn mates of one failed part, in whole per cent.
TEST_CASE("a mate's chance to follow the first failure") {
  struct Row {
    int mates;  // with the failed one
    double shape, per_cent_quarter, per_cent_half, per_cent_whole;
  };
  const std::vector<Row> rows = {{2, 1, 11, 20, 33}, {2, 2, 22, 38, 60}, {2, 3, 32, 54, 78},
                                 {4, 1, 6, 11, 20},  {4, 2, 12, 24, 43}, {4, 3, 19, 37, 64}};
  for (const Row& row : rows) {
    const LifePosterior posterior(prior_of(1e250, Quantity::exactly(row.shape)),
                                  {{1, true, 1}, {1, false, row.mates - 1}}, 0, 0);
    // Half a per cent is where the whole per cent rounds, and a little for the prior that is not quite flat.
    CHECK(near_abs(posterior.failure_chance(0, 1, 0.25) * 100, row.per_cent_quarter, 0.505));
    CHECK(near_abs(posterior.failure_chance(0, 1, 0.5) * 100, row.per_cent_half, 0.505));
    CHECK(near_abs(posterior.failure_chance(0, 1, 1) * 100, row.per_cent_whole, 0.505));
  }
}

TEST_CASE("brute-force integration gives the same chances and marginal likelihoods") {
  struct Row {
    LifePrior prior;
    double tolerance;
  };
  const std::vector<Row> rows = {{prior_of(2, Quantity::exactly(2)), 1e-9},
                                 {prior_of(1.2, Quantity::exactly(3.3), 1, 0.5), 1e-9},
                                 {prior_of(8, Quantity::exactly(0.8)), 1e-9},
                                 {prior_of(2, Quantity::exactly(2), 1.4), 1e-6},
                                 {prior_of(3, Quantity::exactly(1.5), 1.8), 1e-6}};
  for (const Row& row : rows) {
    for (const Evidence& evidence : {mixed, watched}) {
      const LifePosterior posterior(row.prior, evidence, -0.5, 2);
      for (const double z : {-0.5, 2.0}) {
        CHECK(near_abs(posterior.failure_chance(z, 0.7, 0.4),
                       brute_failure_chance(row.prior, evidence, z, 0, 0.7, 0.4), row.tolerance));
      }
      const double log_ratio =
          std::log(integrate(row.prior, evidence, 2, 0, one) / integrate(row.prior, evidence, -0.5, 0, one));
      CHECK(
          near_abs(posterior.log_marginal(2) - posterior.log_marginal(-0.5), log_ratio, 10 * row.tolerance));
    }
  }
}

// Derived: total probability over the shape, by 1,000 midpoints. The single shapes are those checked just above.
TEST_CASE("a range of shapes is the mean of its shapes, weighted by what each makes of the evidence") {
  for (const Quantity& shape : {Quantity::between(1.2, 3.5), Quantity::three_point(0.8, 2, 4),
                                Quantity::three_point(1.2, 2, 3, Spread::triangular)}) {
    const LifePosterior posterior(prior_of(2, shape), mixed, 0.4, 0.4);
    double chance = 0;
    double likelihood = 0;
    constexpr int places = 1000;
    for (int i = 0; i < places; ++i) {
      const LifePrior one_shape = prior_of(2, Quantity::exactly(shape.quantile((i + 0.5) / places)));
      const LifePosterior single(one_shape, mixed, 0.4, 0.4);
      const double weight = std::exp(single.log_marginal(0.4)) / places;
      likelihood += weight;
      chance += weight * single.failure_chance(0.4, 0.7, 0.5);
    }
    CHECK(near_abs(posterior.failure_chance(0.4, 0.7, 0.5), chance / likelihood, 1e-4));
    CHECK(near_abs(posterior.log_marginal(0.4), std::log(likelihood), 1e-4));
  }
}

TEST_CASE("extreme evidence stays finite and right") {
  struct Row {
    Evidence evidence;
    double z, ratio, further;
  };
  // Eight failures at e^-7 of the rated life; forty without one at 20 times it; both kinds at once.
  const std::vector<Row> rows = {{{{1, true, 8}}, 7, 1, 0.3},
                                 {{{1, false, 40}}, -3, 1, 0.5},
                                 {{{1, false, 200}, {0.001, true, 2}}, 1, 1, 1}};
  for (const Row& row : rows) {
    for (const double shape_spread : {1.0, 1.3}) {
      const LifePrior prior = prior_of(2, Quantity::exactly(2), shape_spread);
      const LifePosterior posterior(prior, row.evidence, row.z, row.z);
      const double level =
          posterior.log_marginal(row.z) + (row.evidence.size() > 1 ? -2 * std::log(0.001) : 0);
      const double expected = brute_failure_chance(prior, row.evidence, row.z, level, row.ratio, row.further);
      const double found = posterior.failure_chance(row.z, row.ratio, row.further);
      CAPTURE(row.z);
      CAPTURE(shape_spread);
      CHECK(near_abs(found, expected, shape_spread == 1 ? 1e-9 : 1e-5));
      CHECK(near_abs(drawn_failure_chance(posterior, row.z, row.ratio, row.further), found, 5e-4));
    }
  }
  // Beyond what brute force can reach: finite, and on the right side.
  const LifePrior prior = prior_of(1.5, Quantity::exactly(2), 1.3);
  const LifePosterior doomed(prior, {{1, true, 1000}}, 60, 60);
  const LifePosterior immortal(prior_of(1.5, Quantity::exactly(2)), {{1, false, 1000000}}, -60, -60);
  CHECK(doomed.failure_chance(60, 1, 3) > 0.9);
  CHECK(immortal.failure_chance(-60, 1, 1) < 1e-3);
  CHECK(immortal.failure_chance(-60, 1, 1) > 0);
  CHECK(std::isfinite(doomed.log_marginal(60)));
  CHECK(std::isfinite(immortal.log_marginal(-60)));
  CHECK(std::isfinite(doomed.draw(60, 0.999999, 1e-9).log_scale));
  CHECK(std::isfinite(immortal.draw(-60, 1e-9, 0.999999).log_scale));
}

TEST_CASE("a survivor under a prior so wide that the likelihood is a cliff in it") {
  // Derived: y ~ normal(0, D) given exp(-e^(-2y)); with D = 230 the chance to fail is of the order 1/D.
  const LifePrior prior = prior_of(1e100, Quantity::exactly(2));
  const LifePosterior posterior(prior, {{1, false, 1}}, 0, 0);
  const double expected = brute_failure_chance(prior, {{1, false, 1}}, 0, 0, 1, 1);
  CHECK(near_rel(posterior.failure_chance(0, 1, 1), expected, 0.01));
}

TEST_CASE("draws follow the posterior they come from") {
  for (const LifePrior& prior :
       {prior_of(2, Quantity::exactly(2)), prior_of(1.6, Quantity::exactly(2.2), 1.3),
        prior_of(2, Quantity::between(1.2, 3)), prior_of(2, Quantity::three_point(1.2, 2, 3))}) {
    const LifePosterior known(prior, mixed, 0.4, 0.4);
    const LifePosterior ranged(prior, mixed, -1, 1.5);
    CHECK(near_abs(drawn_failure_chance(known, 0.4, 0.7, 0.5), known.failure_chance(0.4, 0.7, 0.5), 3e-4));
    for (const double z : {-1.0, -0.33, 0.4, 1.49, 1.5}) {
      CHECK(near_abs(drawn_failure_chance(ranged, z, 0.7, 0.5), ranged.failure_chance(z, 0.7, 0.5), 1e-3));
    }
    // The tables do not change what is integrated anew.
    CHECK(near_abs(ranged.failure_chance(0.4, 0.7, 0.5), known.failure_chance(0.4, 0.7, 0.5), 2e-5));
  }
}

TEST_CASE("draws rise with u without jumps, and move smoothly with z") {
  const LifePosterior posterior(prior_of(2, Quantity::exactly(2), 1.3), mixed, 0, 2);
  double last = posterior.draw(0.77, 0.5, 0.0005).log_scale;
  for (int i = 1; i < 1000; ++i) {
    const double y = posterior.draw(0.77, 0.5, (i + 0.5) / 1000).log_scale;
    CHECK(y >= last);
    CHECK(y - last < 0.35);
    last = y;
  }
  for (int i = 0; i < 400; ++i) {
    const double here = posterior.draw(i / 200.0, 0.5, 0.3).log_scale;
    CHECK(near_abs(posterior.draw((i + 1e-6) / 200.0, 0.5, 0.3).log_scale, here, 1e-5));
  }
  // Outside its range z counts as its nearest end.
  CHECK(posterior.draw(-1, 0.4, 0.6).log_scale == posterior.draw(0, 0.4, 0.6).log_scale);
  CHECK(posterior.draw(9, 0.4, 0.6).log_scale == posterior.draw(2, 0.4, 0.6).log_scale);
}

TEST_CASE("without evidence the prior comes back") {
  const double k = std::log(-std::log(0.9));
  const LifePosterior fixed_shape(prior_of(2, Quantity::exactly(2.5)), {}, -1, 2);
  for (const double z : {-1.0, 0.123, 2.0}) {
    for (const double u : {0.001, 0.1, 0.5, 0.8, 0.999}) {
      const double y = z - k / 2.5 + std::log(2) * normal_quantile(u);
      CHECK(near_abs(fixed_shape.draw(z, 0.5, u).log_scale, y, 1e-3));
      CHECK(near_rel(fixed_shape.median_life_quantile(z, u), std::exp(y + std::log(std::numbers::ln2) / 2.5),
                     1e-3));
    }
    CHECK(near_abs(fixed_shape.log_marginal(z), 0, 1e-9));
  }
  // The shape: lognormal about 2; mean 2 exp(s^2/2), second moment 4 exp(2 s^2), s = ln 1.3.
  const LifePosterior loose_shape(prior_of(2, Quantity::exactly(2), 1.3), {}, 0, 0);
  double mean = 0;
  double square = 0;
  for (int i = 0; i < 100000; ++i) {
    const double shape = loose_shape.draw(0, (i + 0.5) / 100000, 0.5).shape;
    mean += shape / 100000;
    square += shape * shape / 100000;
  }
  const double variance = std::log(1.3) * std::log(1.3);
  CHECK(near_rel(mean, 2 * std::exp(variance / 2), 1e-4));
  CHECK(near_rel(square, 4 * std::exp(2 * variance), 2e-4));
  CHECK(near_abs(loose_shape.log_marginal(0), 0, 1e-4));
}

TEST_CASE("the chance of as many failures as there were") {
  // Derived: of a life known exactly, 10 % have failed at the rated life, each on its own: of three at it, at least one
  // with a chance of 1 - 0.9^3, at least two with 3 * 0.1^2 * 0.9 + 0.1^3.
  const LifePosterior known(prior_of(1, Quantity::exactly(2)), {}, 0, 0);
  CHECK(near_abs(known.as_many_failures_chance(0, {{1, true, 1}, {1, false, 2}}), 0.271, 1e-12));
  CHECK(near_abs(known.as_many_failures_chance(0, {{1, true, 2}, {1, false, 1}}), 0.028, 1e-12));
  CHECK(known.as_many_failures_chance(0, {{1, false, 3}}) == 1);
  // At half the wear and shape 2 the hazard is a quarter; the one that came under watch at half has three quarters.
  const double early = 1 - std::pow(0.9, 0.25);
  const double seen = 1 - std::pow(0.9, 0.75);
  CHECK(near_abs(known.as_many_failures_chance(0, {{0.5, true, 1}, {1, false, 1, 0.5}}),
                 1 - (1 - early) * (1 - seen), 1e-12));
  CHECK(near_abs(known.as_many_failures_chance(0, {{0.5, true, 1}, {1, true, 1, 0.5}}), early * seen, 1e-12));
  // Of a single piece it is its chance to fail, whatever is not known.
  const LifePosterior vague(prior_of(3, Quantity::exactly(2), 1.5), {}, 0, 1);
  CHECK(near_rel(vague.as_many_failures_chance(0.4, {{0.2, true, 1}}), vague.failure_chance(0.4, 0, 0.2),
                 1e-12));
  // Mates share what is not known, so two failures are likelier than of strangers.
  const double one = vague.failure_chance(0.4, 0, 0.2);
  CHECK(vague.as_many_failures_chance(0.4, {{0.2, true, 2}}) > 1.5 * one * one);
}

TEST_CASE("a scale that is known exactly leaves nothing to learn about it") {
  const double k = std::log(-std::log(0.9));
  const LifePosterior posterior(prior_of(1, Quantity::exactly(2)), mixed, 0, 1);
  for (const double z : {0.0, 0.6, 1.0}) {
    CHECK(posterior.draw(z, 0.2, 0.9).shape == 2);
    CHECK(near_abs(posterior.draw(z, 0.2, 0.9).log_scale, z - k / 2, 1e-14));
    CHECK(near_abs(posterior.failure_chance(z, 0.7, 0.5),
                   conditional_failure({std::exp(z - k / 2), 2}, 0.7, 0.5), 1e-13));
    CHECK(near_rel(posterior.median_life_quantile(z, 0.3), weibull_median({std::exp(z - k / 2), 2}), 1e-13));
  }
  // Derived: ln of the ratio of the likelihoods.
  CHECK(near_abs(posterior.log_marginal(1) - posterior.log_marginal(0),
                 log_likelihood(mixed, 2, 1 - k / 2) - log_likelihood(mixed, 2, -k / 2), 1e-12));

  const LifePosterior nearly(prior_of(1.0001, Quantity::exactly(2)), mixed, 0, 1);
  CHECK(near_abs(nearly.failure_chance(0.6, 0.7, 0.5), posterior.failure_chance(0.6, 0.7, 0.5), 1e-6));

  // The shape may still be learnt: survivors far beyond the rated life speak for a low one.
  const LifePosterior loose(prior_of(1, Quantity::exactly(2), 1.5), {{1, false, 3}}, -0.5, -0.5);
  double mean_shape = 0;
  for (int i = 0; i < 1000; ++i) mean_shape += loose.draw(-0.5, (i + 0.5) / 1000, 0.5).shape / 1000;
  CHECK(mean_shape < 2);
  // Evidence that such a scale all but rules out, or rules out to every digit, must not end in infinities.
  const LifePosterior ruled_out(prior_of(1, Quantity::exactly(2)), {{1, false, 1}}, -400, -400);
  CHECK(std::isfinite(ruled_out.log_marginal(-400)));
  CHECK(ruled_out.failure_chance(-400, 1, 1) == 1);
  const LifePosterior denied(prior_of(1, Quantity::exactly(2), 1.5), {{1, false, 1000}}, -300, -300);
  CHECK(std::isfinite(denied.log_marginal(-300)));
  CHECK(denied.failure_chance(-300, 1, 1) > 0);
  CHECK(denied.failure_chance(-300, 1, 1) <= 1);
}

TEST_CASE("the share of draws below a median life is its u") {
  for (const LifePrior& prior :
       {prior_of(2, Quantity::exactly(2), 1.4), prior_of(2, Quantity::between(1, 4))}) {
    const LifePosterior posterior(prior, mixed, 0.5, 0.5);
    for (const double u : {0.05, 0.5, 0.95}) {
      const double median = posterior.median_life_quantile(0.5, u);
      int below = 0;
      const RandomBlocks blocks(3);
      for (std::uint64_t i = 0; i < 100000; ++i) {
        const auto v = blocks(Stream::lives, i, 0);
        const LifeDraw draw = posterior.draw(0.5, v[0], v[1]);
        if (draw.log_scale + std::log(std::numbers::ln2) / draw.shape < std::log(median)) ++below;
      }
      // Derived: 4 standard errors of a share of 100,000.
      CHECK(near_abs(below / 1e5, u, 4 * std::sqrt(u * (1 - u) / 1e5)));
    }
  }
}

TEST_CASE("early failures make mates worse, long service makes them better") {
  const LifePrior prior = prior_of(2, Quantity::exactly(2), 1.3);
  const auto chance = [&](const Evidence& evidence) {
    return LifePosterior(prior, evidence, 1.5, 1.5).failure_chance(1.5, 1, 0.5);
  };
  const double before = chance({});
  CHECK(chance({{1, true, 1}}) > before);
  CHECK(chance({{1, true, 3}}) > chance({{1, true, 1}}));
  CHECK(chance({{1, false, 5}}) < before);
  CHECK(chance({{1, true, 1}, {1, false, 5}}) < chance({{1, true, 1}}));
  // One row of three and three rows of one say the same.
  CHECK(near_rel(chance({{1, true, 3}}), chance({{1, true, 1}, {1, true, 1}, {1, true, 1}}), 1e-12));
}

TEST_CASE("priors, evidence and questions out of range are refused") {
  const LifePrior good = prior_of(2, Quantity::exactly(2));
  constexpr double inf = std::numeric_limits<double>::infinity();
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  const auto make = [](const LifePrior& prior, const Evidence& evidence, double z_low, double z_high) {
    return LifePosterior(prior, evidence, z_low, z_high);
  };
  CHECK_THROWS_AS(make(prior_of(0.9, Quantity::exactly(2)), {}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(prior_of(nan, Quantity::exactly(2)), {}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(prior_of(2, Quantity::exactly(0)), {}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(prior_of(2, Quantity::exactly(2), 0.5), {}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(prior_of(2, Quantity::exactly(2), 1, 0), {}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(prior_of(2, Quantity::exactly(2), 1, 1), {}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(good, {{0, true, 1}}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(good, {{nan, true, 1}}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(good, {{1, true, 0}}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(good, {{1, true, 1, -0.1}}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(good, {{1, false, 1, 1}}, 0, 0), std::domain_error);
  CHECK_THROWS_AS(make(good, {}, 1, 0), std::domain_error);
  CHECK_THROWS_AS(make(good, {}, 0, inf), std::domain_error);

  const LifePosterior posterior(good, mixed, 0, 1);
  CHECK(posterior.failure_chance(0, 1, 0) == 0);
  CHECK_THROWS_AS((void)posterior.failure_chance(nan, 1, 1), std::domain_error);
  CHECK_THROWS_AS((void)posterior.failure_chance(0, -1, 1), std::domain_error);
  CHECK_THROWS_AS((void)posterior.failure_chance(0, 1, inf), std::domain_error);
  CHECK_THROWS_AS((void)posterior.median_life_quantile(0, 1), std::domain_error);
  CHECK_THROWS_AS((void)posterior.log_marginal(inf), std::domain_error);
}

TEST_SUITE_END();
