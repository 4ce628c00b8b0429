#pragma once

#include <array>
#include <cstdint>

namespace mendworth {

/// What a block of random numbers is for; keeps the uses of one future apart.
enum class Stream : std::uint32_t { inputs, lives, visits, new_lives, rest, other_uses, dimensions, shop };

/// Philox4x64-10 as published: 256 bits that look random from a counter and a key (Salmon et al., "Parallel
/// random numbers: as easy as 1, 2, 3", SC11). Apart from RandomBlocks so that its published answers can be
/// tested.
[[nodiscard]] std::array<std::uint64_t, 4> philox(const std::array<std::uint64_t, 4>& counter,
                                                  const std::array<std::uint64_t, 2>& key) noexcept;

/// Futures belong by turns to so many randomisations of the same points, independent of each other: what their means
/// differ by is the error (`error_of_mean`).
inline constexpr int randomisations = 16;

/// Four uniforms in (0,1), never 0 or 1, that depend on nothing but (seed, stream, future, index, sub): any number of
/// threads gives the same futures.
///
/// Future f is point f / 16 of randomisation f % 16. Its four numbers are the first four coordinates of a Sobol' point,
/// in an order and with an Owen scrambling that Philox draws for (randomisation, index, sub) under the key (seed,
/// stream). So each number alone is spread evenly over any 2^k consecutive points, the four of a block are so together,
/// and numbers of different blocks meet at random. Source: A. B. Owen, "Monte Carlo variance of scrambled net
/// quadrature", SIAM J. Numer. Anal. 34 (1997); the scrambling by hash and the shuffled blocks: B. Burley, "Practical
/// hash-based Owen scrambling", JCGT 9(4), 2020, with the hash of S. Laine and T. Karras, "Stratified sampling for
/// stochastic transparency", EGSR 2011. About 20 ns. The order repeats after 2^20 points.
class RandomBlocks {
 public:
  explicit RandomBlocks(std::uint64_t seed) noexcept : seed_(seed) {}
  [[nodiscard]] std::array<double, 4> operator()(Stream stream, std::uint64_t future, std::uint64_t index,
                                                 std::uint64_t sub = 0) const noexcept;

 private:
  std::uint64_t seed_;
};

}  // namespace mendworth
