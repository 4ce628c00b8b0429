#include "numeric/random.hpp"

#include <Random123/philox.h>

namespace mendworth {
namespace {

// With 53 bits the largest word would round up to 1.
double to_uniform(std::uint64_t word) noexcept {
  return (static_cast<double>(static_cast<std::int64_t>(word >> 12)) + 0.5) * 0x1p-52;
}

// Inlined so that several blocks can be made at a time.
[[gnu::always_inline]] inline r123::Philox4x64::ctr_type generate(std::uint64_t c0, std::uint64_t c1,
                                                                  std::uint64_t c2, std::uint64_t c3,
                                                                  std::uint64_t k0,
                                                                  std::uint64_t k1) noexcept {
  return r123::Philox4x64{}({{c0, c1, c2, c3}}, {{k0, k1}});
}

}  // namespace

std::array<std::uint64_t, 4> philox(const std::array<std::uint64_t, 4>& counter,
                                    const std::array<std::uint64_t, 2>& key) noexcept {
  const auto words = generate(counter[0], counter[1], counter[2], counter[3], key[0], key[1]);
  return {words[0], words[1], words[2], words[3]};
}

std::array<double, 4> RandomBlocks::operator()(Stream stream, std::uint64_t future, std::uint64_t index,
                                               std::uint64_t sub) const noexcept {
  const auto words = generate(future, index, sub, 0, seed_, static_cast<std::uint64_t>(stream));
  return {to_uniform(words[0]), to_uniform(words[1]), to_uniform(words[2]), to_uniform(words[3])};
}

void RandomBlocks::fill(Stream stream, std::uint64_t future, std::uint64_t first, std::size_t count,
                        std::uint64_t sub, std::array<double, 4>* out) const noexcept {
  constexpr std::size_t together = 4;
  const auto key = static_cast<std::uint64_t>(stream);
  std::size_t done = 0;
  for (; done + together <= count; done += together) {
    std::array<r123::Philox4x64::ctr_type, together> words;
    for (std::size_t i = 0; i < together; ++i)
      words[i] = generate(future, first + done + i, sub, 0, seed_, key);
    for (std::size_t i = 0; i < together; ++i) {
      for (std::size_t j = 0; j < 4; ++j) out[done + i][j] = to_uniform(words[i][j]);
    }
  }
  for (; done < count; ++done) out[done] = (*this)(stream, future, first + done, sub);
}

}  // namespace mendworth
