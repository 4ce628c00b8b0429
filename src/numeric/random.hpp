#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace mendworth {

/// What a block of random numbers is for; keeps the uses of one future apart.
enum class Stream : std::uint32_t { inputs, lives, visits, new_lives, rest, other_uses, dimensions, shop };

/// Philox4x64-10 as published: 256 bits that look random from a counter and a key (Salmon et al., "Parallel
/// random numbers: as easy as 1, 2, 3", SC11). Apart from RandomBlocks so that its published answers can be
/// tested.
[[nodiscard]] std::array<std::uint64_t, 4> philox(const std::array<std::uint64_t, 4>& counter,
                                                  const std::array<std::uint64_t, 2>& key) noexcept;

/// Four uniforms in (0,1), never 0 or 1, that depend on nothing but (seed, stream, future, index, sub): any
/// number of threads gives the same futures. The key is (seed, stream), the counter (future, index, sub, 0);
/// a uniform is (top 52 bits + 1/2) 2^-52. About 10 ns.
class RandomBlocks {
 public:
  explicit RandomBlocks(std::uint64_t seed) noexcept : seed_(seed) {}
  [[nodiscard]] std::array<double, 4> operator()(Stream stream, std::uint64_t future, std::uint64_t index,
                                                 std::uint64_t sub = 0) const noexcept;
  /// The blocks of `count` indices from `first` on, one after the other in `out`: several at a time, as one alone
  /// waits for its own multiplications.
  void fill(Stream stream, std::uint64_t future, std::uint64_t first, std::size_t count, std::uint64_t sub,
            std::array<double, 4>* out) const noexcept;

 private:
  std::uint64_t seed_;
};

}  // namespace mendworth
