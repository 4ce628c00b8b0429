#include "cli/standard_output.hpp"

#include <unistd.h>

#include <cerrno>

namespace mendworth::cli {

DescriptorBuffer::DescriptorBuffer(int descriptor) : descriptor_(descriptor) {
  setp(room_.data(), room_.data() + room_.size());
}

int DescriptorBuffer::sync() {
  const char* from = pbase();
  while (error_ == 0 && from < pptr()) {
    const ssize_t written = ::write(descriptor_, from, static_cast<std::size_t>(pptr() - from));
    if (written >= 0) {
      from += written;
    } else if (errno != EINTR) {
      error_ = errno;
    }
  }
  setp(room_.data(), room_.data() + room_.size());
  return error_ == 0 ? 0 : -1;
}

DescriptorBuffer::int_type DescriptorBuffer::overflow(int_type c) {
  if (sync() != 0) return traits_type::eof();
  if (!traits_type::eq_int_type(c, traits_type::eof())) sputc(traits_type::to_char_type(c));
  return traits_type::not_eof(c);
}

}  // namespace mendworth::cli
