#include "draw_count.hpp"

#include <array>

using mendworth::RandomBlocks;
using mendworth::Stream;
using Block = std::array<double, 4>;

namespace {

std::vector<mendworth::bench::Draw>* recording = nullptr;

}  // namespace

// The linker's --wrap sends calls of a function NAME to the symbol __wrap_NAME; __real_NAME is the function itself. A
// member function is called like a free one that takes the object's address first. Calls within random.cpp are
// not sent, so fill() is counted once.
Block real_block(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t index,
                 std::uint64_t sub) noexcept __asm__("__real__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm");
Block recorded_block(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t index,
                     std::uint64_t sub) noexcept
    __asm__("__wrap__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm");

Block recorded_block(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t index,
                     std::uint64_t sub) noexcept {
  if (recording != nullptr) recording->push_back({stream, future, index, sub, 1});
  return real_block(self, stream, future, index, sub);
}

void real_fill(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t first,
               std::size_t count, std::uint64_t sub, Block* out) noexcept
    __asm__("__real__ZNK9mendworth12RandomBlocks4fillENS_6StreamEmmmmPSt5arrayIdLm4EE");
void recorded_fill(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t first,
                   std::size_t count, std::uint64_t sub, Block* out) noexcept
    __asm__("__wrap__ZNK9mendworth12RandomBlocks4fillENS_6StreamEmmmmPSt5arrayIdLm4EE");

void recorded_fill(const RandomBlocks* self, Stream stream, std::uint64_t future, std::uint64_t first,
                   std::size_t count, std::uint64_t sub, Block* out) noexcept {
  if (recording != nullptr) recording->push_back({stream, future, first, sub, count});
  real_fill(self, stream, future, first, count, sub, out);
}

namespace mendworth::bench {

DrawRecorder::DrawRecorder() { recording = &draws_; }
DrawRecorder::~DrawRecorder() { recording = nullptr; }

}  // namespace mendworth::bench
