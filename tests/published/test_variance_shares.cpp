// Shares of variance against functions whose shares have a closed form.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "numeric/random.hpp"
#include "numeric/variance_shares.hpp"
#include "support/published.hpp"

using namespace mendworth;
using mendworth::test::published::near_abs;

TEST_SUITE_BEGIN("published: variance shares");

namespace {

constexpr std::size_t samples = 16384;
constexpr int blocks = 32;
using Point = std::vector<double>;

Point uniforms(std::size_t count, std::uint64_t sample, std::uint64_t half) {
  Point x;
  for (std::uint64_t block = 0; x.size() < count; ++block) {
    for (const double u : RandomBlocks(7)(Stream::inputs, sample, block, half)) {
      if (x.size() < count) x.push_back(u);
    }
  }
  return x;
}

struct Shares {
  Estimate by_blocks, shared, total;
};

/// All three estimates for one input of a function of uniforms.
Shares shares_of(const std::function<double(const Point&)>& f, std::size_t inputs, std::size_t which) {
  Point x, y, anew, shared;
  for (std::size_t s = 0; s < samples; ++s) {
    const Point a = uniforms(inputs, s, 0), b = uniforms(inputs, s, 1);
    Point one_anew = a, one_shared = b;
    one_anew[which] = b[which];
    one_shared[which] = a[which];
    x.push_back(a[which]);
    y.push_back(f(a));
    anew.push_back(f(one_anew));
    shared.push_back(f(one_shared));
  }
  return {first_order_share(Blocks::cut(x, blocks), y), shared_share(y, shared), total_share(y, anew)};
}

/// Within four standard errors, these as small as `most_error`, and what is lost.
void check(const Estimate& found, double exact, double most_error, double lost = 0) {
  CAPTURE(found.value);
  CAPTURE(found.error);
  CAPTURE(exact);
  CHECK(found.error <= most_error);
  CHECK(near_abs(found.value, exact, 4 * found.error + 1e-3 + lost));
}

double ishigami(const Point& u) {
  Point x;
  for (const double each : u) x.push_back(std::numbers::pi * (2 * each - 1));
  const double sine = std::sin(x[1]);
  return std::sin(x[0]) + 7 * sine * sine + 0.1 * std::pow(x[2], 4) * std::sin(x[0]);
}

constexpr std::array g_widths = {0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0};

double sobol_g(const Point& x) {
  double product = 1;
  for (std::size_t i = 0; i < x.size(); ++i)
    product *= (std::abs(4 * x[i] - 2) + g_widths[i]) / (1 + g_widths[i]);
  return product;
}

}  // namespace

// T. Ishigami, T. Homma, "An importance quantification technique in uncertainty analysis for computer models", 1990: sin
// x1 + a sin^2 x2 + b x3^4 sin x1, x uniform in (-pi, pi); closed form for a = 7, b = 0.1.
TEST_CASE("Ishigami's function") {
  constexpr std::array first = {0.31390519114781, 0.44241114479004, 0.0};
  constexpr std::array total = {0.55758885520996, 0.44241114479004, 0.24368366406215};
  for (std::size_t i = 0; i < first.size(); ++i) {
    CAPTURE(i);
    const Shares found = shares_of(ishigami, first.size(), i);
    // Within a block the function moves: a sine squared rises and falls twice, 8 blocks each time, so that about 1/8^2 of
    // its share is lost.
    check(found.by_blocks, first[i], 0.02, first[i] / 64);
    check(found.shared, first[i], 0.02);
    check(found.total, total[i], 0.02);
  }
}

// A. Saltelli et al., Computer Physics Communications 181 (2010): Sobol' g function of eight inputs, closed form.
TEST_CASE("Sobol's g function") {
  constexpr std::array first = {0.71619216887903, 0.17904804221976, 0.02367577417782, 0.00716192168879,
                                0.00007161921689};
  constexpr std::array total = {0.78714412665928, 0.24219819281824, 0.03431691015408, 0.01046038706524,
                                0.00010494905192};
  for (std::size_t i = 0; i < first.size(); ++i) {
    CAPTURE(i);
    const Shares found = shares_of(sobol_g, g_widths.size(), i);
    // It falls and rises over half of its range, 16 blocks each time: 1/16^2 is lost.
    check(found.by_blocks, first[i], 0.02, first[i] / 256);
    check(found.shared, first[i], 0.02);
    check(found.total, total[i], 0.02);
  }
  // Of an input that brings next to nothing, the total share is known as sharply as its size is small.
  const Shares least = shares_of(sobol_g, g_widths.size(), 7);
  CHECK(least.total.error < 1e-5);
}

// Derived: of y = x1 + 2 x2 + 3 x3 the shares are as the squares, 1/14, 4/14, 9/14, first order and total alike.
TEST_CASE("what adds up has equal first-order and total shares") {
  const auto sum = [](const Point& x) { return x[0] + 2 * x[1] + 3 * x[2]; };
  for (std::size_t i = 0; i < 3; ++i) {
    const double exact = static_cast<double>((i + 1) * (i + 1)) / 14.0;
    const Shares found = shares_of(sum, 3, i);
    check(found.by_blocks, exact, 0.015);
    check(found.shared, exact, 0.015);
    check(found.total, exact, 0.015);
  }
}

TEST_CASE("a result that never moves has no shares") {
  const std::vector<double> x = {1, 2, 3, 4, 5, 6, 7, 8}, flat(8, 3.25);
  for (const Estimate& found :
       {first_order_share(Blocks::cut(x, 4), flat), shared_share(flat, flat), total_share(flat, flat)}) {
    CHECK(found.value == 0.0);
    CHECK(found.error == 0.0);
  }
}

// Derived: two samples in blocks of their own differ between blocks alone; an evaluation that is the same again has all
// in common with the first, and what was drawn anew brings nothing.
TEST_CASE("two samples are the fewest that have shares") {
  const std::vector<double> x = {1, 2}, result = {3, 7}, one = {3};
  CHECK(first_order_share(Blocks::cut(x, 2), result).value == 1.0);
  CHECK(shared_share(result, result).value == 1.0);
  CHECK(total_share(result, result).value == 0.0);
  CHECK_THROWS_AS(static_cast<void>(first_order_share(Blocks::cut(one, 2), one)), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(first_order_share(Blocks::cut(x, 2), one)), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(shared_share(one, one)), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(total_share(result, one)), std::invalid_argument);
}

TEST_CASE("blocks hold about equally many samples, and equal values together") {
  std::vector<double> x, coin;
  for (std::size_t s = 0; s < 10'000; ++s) {
    x.push_back(uniforms(1, s, 0).front());
    coin.push_back(x.back() < 0.1 ? 1.0 : 0.0);
  }
  const Blocks many = Blocks::cut(x, 32);
  REQUIRE(many.count() == 32);
  for (std::size_t b = 0; b < many.count(); ++b) {
    // A 32nd of the samples that tell the edges, give or take four standard deviations.
    CHECK(near_abs(many.share[b], 1.0 / 32, 0.035));
    if (b > 0) CHECK(many.value[b] > many.value[b - 1]);
  }
  const Blocks two = Blocks::cut(coin, 32);
  REQUIRE(two.count() == 2);
  CHECK(two.value == std::vector<double>{0.0, 1.0});
}

TEST_SUITE_END();
