#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "numeric/random.hpp"

namespace mendworth::bench {

/// One call of RandomBlocks.
struct Draw {
  Stream stream;
  std::uint64_t future, index, sub;
};

/// While one of these lives, every block of random numbers that the library draws is written down. For one
/// thread, one at a time; when none lives, a block costs one test more than without.
class DrawRecorder {
 public:
  DrawRecorder();
  ~DrawRecorder();
  DrawRecorder(const DrawRecorder&) = delete;
  DrawRecorder& operator=(const DrawRecorder&) = delete;

  [[nodiscard]] const std::vector<Draw>& draws() const noexcept { return draws_; }

 private:
  std::vector<Draw> draws_;
};

/// While one of these lives, every number is drawn for itself, as in plain sampling: no points of a sequence.
class PlainSampling {
 public:
  PlainSampling();
  ~PlainSampling();
  PlainSampling(const PlainSampling&) = delete;
  PlainSampling& operator=(const PlainSampling&) = delete;
};

}  // namespace mendworth::bench
