#include "draw_count.hpp"

#include <array>

using mendworth::RandomBlocks;
using mendworth::Stream;
using Block = std::array<double, 4>;

namespace {

std::vector<mendworth::bench::Draw>* recording = nullptr;

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
  return real_block(self, stream, future, index, sub);
}

namespace mendworth::bench {

DrawRecorder::DrawRecorder() { recording = &draws_; }
DrawRecorder::~DrawRecorder() { recording = nullptr; }

}  // namespace mendworth::bench
