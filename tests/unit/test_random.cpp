#include "numeric/random.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <set>
#include <vector>

#include "support/near.hpp"

using namespace mendworth;
using mendworth::test::near_abs;

TEST_SUITE_BEGIN("random");

namespace {

using Words = std::array<std::uint64_t, 4>;

double as_uniform(std::uint64_t word) { return (static_cast<double>(word >> 12) + 0.5) / 4503599627370496.0; }

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

TEST_CASE("a block is philox of its names, word by word") {
  const auto block = RandomBlocks(42)(Stream::visits, 123456789, 7, 3);
  const Words words = philox({123456789, 7, 3, 0}, {42, 2});
  for (std::size_t i = 0; i < 4; ++i) CHECK(block[i] == as_uniform(words[i]));
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
