#pragma once

#include <array>
#include <streambuf>

namespace mendworth::cli {

/// Writes to a descriptor and keeps why that failed, which the standard library's streams forget.
class DescriptorBuffer : public std::streambuf {
 public:
  explicit DescriptorBuffer(int descriptor);

  /// errno of the first writing that failed; 0 if none did.
  [[nodiscard]] int error() const noexcept { return error_; }

 protected:
  int_type overflow(int_type c) override;
  int sync() override;

 private:
  int descriptor_;
  int error_ = 0;
  std::array<char, 65536> room_;
};

}  // namespace mendworth::cli
