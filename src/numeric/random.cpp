#include "numeric/random.hpp"

#include <Random123/philox.h>

#include <boost/random/sobol.hpp>

namespace mendworth {
namespace {

constexpr int index_bits = 20, byte_bits = 8, bytes = (index_bits + byte_bits - 1) / byte_bits;
constexpr std::uint32_t index_mask = (1U << index_bits) - 1;

using Point = std::array<std::uint32_t, 4>;

std::uint32_t reversed(std::uint32_t x) noexcept {
  x = __builtin_bswap32(x);
  x = ((x & 0x0f0f0f0fU) << 4U) | ((x >> 4U) & 0x0f0f0f0fU);
  x = ((x & 0x33333333U) << 2U) | ((x >> 2U) & 0x33333333U);
  return ((x & 0x55555555U) << 1U) | ((x >> 1U) & 0x55555555U);
}

/// Owen's scrambling of the bits of x, of which the lowest counts most: each is flipped by what the lower ones are.
std::uint32_t scrambled(std::uint32_t x, std::uint32_t key) noexcept {
  x ^= x * 0x3d20adeaU;
  x += key;
  x *= (key >> 16U) | 1U;
  x ^= x * 0x05526c56U;
  x ^= x * 0x53a22864U;
  return x;
}

/// A word of which all bits hang on all bits of another: the finaliser of SplitMix64 (G. L. Steele et al., "Fast
/// splittable pseudorandom number generators", OOPSLA 2014).
std::uint64_t mixed(std::uint64_t x) noexcept {
  x += 0x9e3779b97f4a7c15U;
  x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
  x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
  return x ^ (x >> 31U);
}

/// Blocks that matter to most futures: the end of the rest, the law of the first part, the first visit, the lives of the
/// first positions, the first candidate. Each has coordinates of its own of one sequence; all others share the first
/// four.
constexpr std::size_t leading_blocks = 6;

constexpr std::size_t no_leader = leading_blocks;

std::size_t leader(Stream stream, std::uint64_t index, std::uint64_t sub) noexcept {
  if (index > 1) return no_leader;
  switch (stream) {
    case Stream::rest: return index == 0 && sub == 0 ? 0 : no_leader;
    case Stream::lives: return sub == 1 ? 2 + index : index == 0 && sub == 0 ? 1 : no_leader;
    case Stream::visits: return index == 0 && sub == 0 ? 4 : no_leader;
    case Stream::new_lives: return index == 0 && sub == 1 ? 5 : no_leader;
    default: return no_leader;
  }
}

/// Sobol' points, their bits reversed: the point of an index is the sum without carries of what its bytes contribute.
class SobolPoints {
 public:
  SobolPoints() {
    constexpr std::size_t coordinates = 4 * leading_blocks;
    std::array<std::array<std::uint32_t, coordinates>, index_bits> of_bit{};
    of_bit[0].fill(1U);
    for (unsigned bit = 1; bit < index_bits; ++bit) {
      // In the library's order (Gray code) one number is added from one point to the next.
      boost::random::sobol sequence(coordinates);
      sequence.discard(coordinates * ((1ULL << bit) - 2));
      std::array<std::uint32_t, coordinates> before{};
      for (auto& x : before) x = static_cast<std::uint32_t>(sequence() >> 32U);
      for (std::size_t d = 0; d < coordinates; ++d)
        of_bit[bit][d] = reversed(before[d] ^ static_cast<std::uint32_t>(sequence() >> 32U));
    }
    for (std::size_t block = 0; block < leading_blocks; ++block) {
      for (unsigned byte = 0; byte < bytes; ++byte) {
        for (unsigned value = 0; value < 256; ++value) {
          for (unsigned bit = 0; bit < byte_bits && byte * byte_bits + bit < index_bits; ++bit) {
            if ((value >> bit & 1U) == 0) continue;
            for (std::size_t d = 0; d < 4; ++d)
              parts_[block][byte][value][d] ^= of_bit[byte * byte_bits + bit][4 * block + d];
          }
        }
      }
    }
  }
  /// Four coordinates of a point below 2^index_bits.
  [[nodiscard]] Point operator()(std::size_t block, std::uint32_t index) const noexcept {
    const auto& parts = parts_[block];
    const auto &a = parts[0][index & 255U], &b = parts[1][index >> 8U & 255U], &c = parts[2][index >> 16U];
    return {a[0] ^ b[0] ^ c[0], a[1] ^ b[1] ^ c[1], a[2] ^ b[2] ^ c[2], a[3] ^ b[3] ^ c[3]};
  }

 private:
  std::array<std::array<std::array<Point, 256>, bytes>, leading_blocks> parts_{};
};

const SobolPoints sobol_points;

std::array<std::uint64_t, 4> generate(std::uint64_t c0, std::uint64_t c1, std::uint64_t c2, std::uint64_t c3,
                                      std::uint64_t k0, std::uint64_t k1) noexcept {
  const r123::Philox4x64::ctr_type words = r123::Philox4x64{}({{c0, c1, c2, c3}}, {{k0, k1}});
  return {words[0], words[1], words[2], words[3]};
}

}  // namespace

std::array<std::uint64_t, 4> philox(const std::array<std::uint64_t, 4>& counter,
                                    const std::array<std::uint64_t, 2>& key) noexcept {
  return generate(counter[0], counter[1], counter[2], counter[3], key[0], key[1]);
}

std::array<double, 4> RandomBlocks::operator()(Stream stream, std::uint64_t future, std::uint64_t index,
                                               std::uint64_t sub) const noexcept {
  const auto keys =
      generate(future % randomisations, index, sub, 0, seed_, static_cast<std::uint64_t>(stream));
  const auto low = [](std::uint64_t word) { return static_cast<std::uint32_t>(word); };
  const auto high = [](std::uint64_t word) { return static_cast<std::uint32_t>(word >> 32U); };
  // Leading blocks are taken in one order, which hangs on the seed all the same: futures of two seeds are independent.
  const std::size_t lead = leader(stream, index, sub);
  const bool leads = lead < no_leader;
  const std::uint32_t order = leads ? high(mixed(seed_ + future % randomisations)) : high(keys[0]);
  const auto place = reversed(static_cast<std::uint32_t>(future / randomisations));
  const Point x = sobol_points(leads ? lead : 0, reversed(scrambled(place, order)) & index_mask);
  std::array<double, 4> u;
  for (std::size_t d = 0; d < 4; ++d) u[d] = (reversed(scrambled(x[d], low(keys[d]))) + 0.5) * 0x1p-32;
  return u;
}

}  // namespace mendworth
