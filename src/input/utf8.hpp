#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace mendworth::input {

/// The first byte that is no part of well-formed UTF-8 (RFC 3629), or a NUL; absent if there is none.
struct BadByte {
  int line = 1;
  int column = 1;  ///< in code points
  unsigned char byte = 0;
};
[[nodiscard]] std::optional<BadByte> find_bad_byte(std::string_view text);

/// At most `limit` bytes of `text` on one line, cut between code points and closed with "..." when cut;
/// control characters are shown as \xNN.
[[nodiscard]] std::string printable(std::string_view text, std::size_t limit = 60);

/// True if the text holds a control character, a line break included.
[[nodiscard]] bool has_control_character(std::string_view text) noexcept;

}  // namespace mendworth::input
