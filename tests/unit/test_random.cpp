#include "numeric/random.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <set>
#include <vector>

#include "numeric/mean_error.hpp"
#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

TEST_SUITE_BEGIN("random");

namespace {

using Words = std::array<std::uint64_t, 4>;

}  // namespace

// Published: Random123 (D. E. Shaw Research), file tests/kat_vectors (examples/kat_vectors before 1.14), the
// three lines "philox4x64 10".
TEST_CASE("philox gives its published answers") {
  constexpr std::uint64_t ones = std::numeric_limits<std::uint64_t>::max();
  CHECK(philox({0, 0, 0, 0}, {0, 0}) ==
        Words{0x16554d9eca36314c, 0xdb20fe9d672d0fdc, 0xd7e772cee186176b, 0x7e68b68aec7ba23b});
  CHECK(philox({ones, ones, ones, ones}, {ones, ones}) ==
        Words{0x87b092c3013fe90b, 0x438c3c67be8d0224, 0x9cc7d7c69cd777b6, 0xa09caebf594f0ba0});
  // The digits of pi.
  CHECK(philox({0x243f6a8885a308d3, 0x13198a2e03707344, 0xa4093822299f31d0, 0x082efa98ec4e6c89},
               {0x452821e638d01377, 0xbe5466cf34e90c6c}) ==
        Words{0xa528f45403e61d95, 0x38c72dbd566e9788, 0xa5a1610e72fd18b5, 0x57bd43b5e52b7fe6});
}

// Derived: scrambled or not, the first 2^k points of a coordinate of a Sobol' sequence lie one in each of 2^k equal
// parts (A. B. Owen, "Monte Carlo variance of scrambled net quadrature", 1997: a (0, k, 1)-net in base 2), and the first
// two coordinates one in each of 2^k equal boxes ((0, k, 2)-net).
TEST_CASE("points of one randomisation are spread evenly") {
  const RandomBlocks blocks(42);
  for (const int points : {2, 16, 256, 2048}) {
    for (const int randomisation : {0, 7, randomisations - 1}) {
      std::array<std::set<int>, 4> parts;
      for (int i = 0; i < points; ++i) {
        const auto future = static_cast<std::uint64_t>(i * randomisations + randomisation);
        const auto u = blocks(Stream::visits, future, 7, 3);
        for (std::size_t d = 0; d < 4; ++d) parts[d].insert(static_cast<int>(u[d] * points));
      }
      for (const auto& of_coordinate : parts) CHECK(of_coordinate.size() == static_cast<std::size_t>(points));
    }
  }
  std::set<int> boxes;
  for (std::uint64_t i = 0; i < 256; ++i) {
    const auto u = blocks(Stream::lives, i * randomisations, 1);
    boxes.insert(static_cast<int>(u[0] * 16) * 16 + static_cast<int>(u[1] * 16));
  }
  CHECK(boxes.size() == 256);
}

// Derived: the correlation of n independent pairs has a deviation of 1/sqrt(n).
TEST_CASE("blocks of different names meet at random") {
  const RandomBlocks blocks(9);
  constexpr int futures = 16384;
  double same_stream = 0, other_stream = 0, other_device = 0;
  for (std::uint64_t f = 0; f < futures; ++f) {
    const double u = blocks(Stream::lives, f, 0)[0] - 0.5;
    same_stream += 12 * u * (blocks(Stream::lives, f, 1)[0] - 0.5) / futures;
    other_stream += 12 * u * (blocks(Stream::rest, f, 0)[0] - 0.5) / futures;
    other_device += 12 * u * (blocks(Stream::lives, f, 1ULL << 40U)[0] - 0.5) / futures;
  }
  for (const double correlation : {same_stream, other_stream, other_device})
    CHECK(std::abs(correlation) < 4.0 / 128);
}

// Derived: the integral of exp(u0 u1) over the unit square is the sum of 1/(k! (k + 1)^2) = 1.317902...; among a hundred
// keys the interval of two errors (15 degrees of freedom) holds it in 93.6 % with a deviation of 2.4 %.
TEST_CASE("the error of a mean is as stated, and far below that of as many independent points") {
  double integral = 0, term = 1;
  for (int k = 0; k < 30; ++k, term /= k) integral += term / ((k + 1.0) * (k + 1.0));
  constexpr int futures = 1024;
  int held = 0;
  double squares = 0;
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    const RandomBlocks blocks(seed);
    std::vector<double> values;
    for (std::uint64_t f = 0; f < futures; ++f) {
      const auto u = blocks(Stream::lives, f, 2);
      values.push_back(std::exp(u[0] * u[1]));
    }
    const MeanError found = mean_of(values);
    held += std::abs(found.mean - integral) < 2 * found.error ? 1 : 0;
    squares += found.error * found.error / 100;
  }
  CHECK(held >= 84);
  // The deviation of exp(u0 u1) is above 0.3: as many independent points have an error above 0.3/32.
  CHECK(std::sqrt(squares) < 0.3 / 32 / 10);
}

TEST_CASE("any other name gives another block") {
  const RandomBlocks blocks(1);
  std::set<double> seen;
  int made = 0;
  for (const std::uint64_t seed : {1u, 2u}) {
    for (const Stream stream : {Stream::inputs, Stream::lives, Stream::other_uses}) {
      for (std::uint64_t future = 0; future < 3; ++future) {
        for (std::uint64_t index = 0; index < 3; ++index) {
          for (std::uint64_t sub = 0; sub < 3; ++sub) {
            for (const double u : RandomBlocks(seed)(stream, future, index, sub)) {
              seen.insert(u);
              ++made;
            }
          }
        }
      }
    }
  }
  CHECK(seen.size() == static_cast<std::size_t>(made));
  CHECK(blocks(Stream::rest, 5, 6) == blocks(Stream::rest, 5, 6, 0));
}

TEST_CASE("uniforms lie strictly inside 0..1 and are spread evenly") {
  // Derived: 400,000 uniforms: mean 1/2 with standard error 4.6e-4; each of 16 bins 25,000 with deviation
  // 153.
  const RandomBlocks blocks(2024);
  double sum = 0;
  std::vector<int> bins(16);
  bool inside = true;
  for (std::uint64_t future = 0; future < 100000; ++future) {
    for (const double u : blocks(Stream::lives, future, 0)) {
      inside = inside && u > 0 && u < 1;
      sum += u;
      ++bins[static_cast<std::size_t>(u * 16)];
    }
  }
  CHECK(inside);
  CHECK(near_abs(sum / 400000, 0.5, 4 * 4.6e-4));
  for (const int bin : bins) CHECK(near_abs(bin, 25000, 4.5 * 153));
}

TEST_SUITE_END();
