#include "draw_count.hpp"

#include <array>
#include <cstring>

using mendworth::RandomBlocks;
using mendworth::Stream;
using Block = std::array<double, 4>;

namespace {

std::vector<mendworth::bench::Draw>* recording = nullptr;
bool plain = false;

/// A block by the generator alone; `self` is nothing but the seed that it was made from.
Block plain_block(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t index,
                  std::uint64_t sub) noexcept {
  std::uint64_t seed = 0;
  static_assert(sizeof(RandomBlocks) == sizeof seed);
  std::memcpy(&seed, self, sizeof seed);
  const auto words = mendworth::philox({future, index, sub, 1}, {seed, static_cast<std::uint64_t>(stream)});
  Block u{};
  for (std::size_t d = 0; d < u.size(); ++d) u[d] = (static_cast<double>(words[d] >> 12U) + 0.5) * 0x1p-52;
  return u;
}

}  // namespace

// The linker's --wrap sends calls of a function NAME to the symbol __wrap_NAME; __real_NAME is the function itself. A
// member function is called like a free one that takes the object's address first.
Block real_block(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t index,
                 std::uint64_t sub) noexcept __asm__("__real__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm");
Block recorded_block(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t index,
                     std::uint64_t sub) noexcept
    __asm__("__wrap__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm");

Block recorded_block(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t index,
                     std::uint64_t sub) noexcept {
  if (recording != nullptr) recording->push_back({stream, future, index, sub});
  return plain ? plain_block(self, stream, future, index, sub) : real_block(self, stream, future, index, sub);
}

namespace mendworth::bench {

DrawRecorder::DrawRecorder() { recording = &draws_; }
DrawRecorder::~DrawRecorder() { recording = nullptr; }

PlainSampling::PlainSampling() { plain = true; }
PlainSampling::~PlainSampling() { plain = false; }

}  // namespace mendworth::bench
