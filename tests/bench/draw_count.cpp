#include "draw_count.hpp"

#include <array>

namespace {

std::vector<mendworth::bench::Draw>* recording = nullptr;

}  // namespace

// The linker's --wrap sends the calls of RandomBlocks::operator() here; __real_... is the function itself. The names
// are the linker's, hence the reserved underscores.
extern "C" {
std::array<double, 4> __real__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm(const mendworth::RandomBlocks* self,
                                                                        mendworth::Stream stream, std::uint64_t future,
                                                                        std::uint64_t index, std::uint64_t sub) noexcept;
std::array<double, 4> __wrap__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm(const mendworth::RandomBlocks* self,
                                                                        mendworth::Stream stream, std::uint64_t future,
                                                                        std::uint64_t index, std::uint64_t sub) noexcept;

std::array<double, 4> __wrap__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm(const mendworth::RandomBlocks* self,
                                                                        mendworth::Stream stream, std::uint64_t future,
                                                                        std::uint64_t index, std::uint64_t sub) noexcept {
  if (recording != nullptr) recording->push_back({stream, future, index, sub});
  return __real__ZNK9mendworth12RandomBlocksclENS_6StreamEmmm(self, stream, future, index, sub);
}
}

namespace mendworth::bench {

DrawRecorder::DrawRecorder() { recording = &draws_; }
DrawRecorder::~DrawRecorder() { recording = nullptr; }

}  // namespace mendworth::bench
