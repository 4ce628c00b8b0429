#include "numeric/random.hpp"

#include <Random123/philox.h>

#include <boost/random/sobol.hpp>

namespace mendworth {
namespace {

constexpr int index_bits = 20, byte_bits = 8, bytes = (index_bits + byte_bits - 1) / byte_bits;
constexpr std::uint32_t index_mask = (1U << index_bits) - 1;

/// Four words at once: compilers make vector code of it.
using Words = std::uint32_t __attribute__((vector_size(16)));

/// Compiled once more for processors that multiply four words at once, which is chosen when the program starts: twice as
/// fast. Whole numbers come out the same.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)
#define MENDWORTH_WIDE __attribute__((target_clones("avx2", "default")))
#else
#define MENDWORTH_WIDE
#endif

/// One word or four.
template <class Word>
[[gnu::always_inline]] inline Word reversed(Word x) noexcept {
  x = (x << 16U) | (x >> 16U);
  x = ((x & 0x00ff00ffU) << 8U) | ((x >> 8U) & 0x00ff00ffU);
  x = ((x & 0x0f0f0f0fU) << 4U) | ((x >> 4U) & 0x0f0f0f0fU);
  x = ((x & 0x33333333U) << 2U) | ((x >> 2U) & 0x33333333U);
  return ((x & 0x55555555U) << 1U) | ((x >> 1U) & 0x55555555U);
}

/// Owen's scrambling of the bits of x, of which the lowest counts most: each is flipped by what the lower ones are.
template <class Word>
[[gnu::always_inline]] inline Word scrambled(Word x, Word key) noexcept {
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
  [[nodiscard]] Words operator()(std::size_t block, std::uint32_t index) const noexcept {
    const auto& parts = parts_[block];
    return parts[0][index & 255U] ^ parts[1][index >> 8U & 255U] ^ parts[2][index >> 16U];
  }

 private:
  std::array<std::array<std::array<Words, 256>, bytes>, leading_blocks> parts_{};
};

const SobolPoints sobol_points;

std::array<std::uint64_t, 4> generate(std::uint64_t c0, std::uint64_t c1, std::uint64_t c2, std::uint64_t c3,
                                      std::uint64_t k0, std::uint64_t k1) noexcept {
  const r123::Philox4x64::ctr_type words = r123::Philox4x64{}({{c0, c1, c2, c3}}, {{k0, k1}});
  return {words[0], words[1], words[2], words[3]};
}

/// What a block is scrambled and ordered by, in one randomisation.
struct Keys {
  Words of_numbers{};
  std::uint32_t of_order = 0;
};

Keys keys_of(std::uint64_t seed, Stream stream, std::uint64_t randomisation, std::uint64_t index,
             std::uint64_t sub) noexcept {
  const auto words = generate(randomisation, index, sub, 0, seed, static_cast<std::uint64_t>(stream));
  Keys keys{.of_order = static_cast<std::uint32_t>(words[0] >> 32U)};
  for (std::size_t d = 0; d < 4; ++d) keys.of_numbers[d] = static_cast<std::uint32_t>(words[d]);
  return keys;
}

/// The keys that a thread used last: all futures of a randomisation ask for the same few.
class KnownKeys {
 public:
  const Keys& operator()(std::uint64_t seed, Stream stream, std::uint64_t randomisation, std::uint64_t index,
                         std::uint64_t sub) noexcept {
    const std::uint64_t kind = randomisation << 8U | (static_cast<std::uint64_t>(stream) + 1);
    const std::uint64_t place = (kind + 0x10001U * index + 0x1000003U * sub) * 0x9e3779b97f4a7c15U;
    Known& known = known_[place >> (64U - place_bits)];
    if (known.seed != seed || known.kind != kind || known.index != index || known.sub != sub) {
      known = {seed, kind, index, sub, keys_of(seed, stream, randomisation, index, sub)};
    }
    return known.keys;
  }

 private:
  struct Known {
    std::uint64_t seed = 0, kind = 0, index = 0, sub = 0;
    Keys keys{};
  };
  static constexpr unsigned place_bits = 11;
  std::array<Known, 1U << place_bits> known_{};
};

}  // namespace

std::array<std::uint64_t, 4> philox(const std::array<std::uint64_t, 4>& counter,
                                    const std::array<std::uint64_t, 2>& key) noexcept {
  return generate(counter[0], counter[1], counter[2], counter[3], key[0], key[1]);
}

MENDWORTH_WIDE
std::array<double, 4> RandomBlocks::operator()(Stream stream, std::uint64_t future, std::uint64_t index,
                                               std::uint64_t sub) const noexcept {
  thread_local constinit KnownKeys known;
  const std::uint64_t randomisation = future % randomisations;
  const Keys& keys = known(seed_, stream, randomisation, index, sub);
  // Leading blocks are taken in one order, which hangs on the seed all the same: futures of two seeds are independent.
  const std::size_t lead = leader(stream, index, sub);
  const bool leads = lead < no_leader;
  const std::uint32_t order =
      leads ? static_cast<std::uint32_t>(mixed(seed_ + randomisation) >> 32U) : keys.of_order;
  const auto place = reversed(static_cast<std::uint32_t>(future / randomisations));
  const Words x = reversed(scrambled(
      sobol_points(leads ? lead : 0, reversed(scrambled(place, order)) & index_mask), keys.of_numbers));
  std::array<double, 4> u;
  for (std::size_t d = 0; d < 4; ++d) u[d] = (x[d] + 0.5) * 0x1p-32;
  return u;
}

}  // namespace mendworth
