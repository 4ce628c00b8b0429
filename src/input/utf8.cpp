#include "input/utf8.hpp"

#include <fmt/format.h>

namespace mendworth::input {

namespace {

unsigned char byte_at(std::string_view text, std::size_t i) {
  return i < text.size() ? static_cast<unsigned char>(text[i]) : static_cast<unsigned char>(0);
}

bool is_continuation(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

/// Bytes of the well-formed sequence that starts at i; 0 if there is none.
std::size_t sequence_length(std::string_view text, std::size_t i) {
  const unsigned char a = byte_at(text, i);
  const unsigned char b = byte_at(text, i + 1);
  if (a < 0x80) return 1;
  if (a < 0xC2 || a > 0xF4 || !is_continuation(b)) return 0;
  if (a < 0xE0) return 2;
  // The second byte's range excludes overlong forms, surrogates and what is beyond U+10FFFF.
  if ((a == 0xE0 && b < 0xA0) || (a == 0xED && b > 0x9F) || (a == 0xF0 && b < 0x90) ||
      (a == 0xF4 && b > 0x8F))
    return 0;
  if (!is_continuation(byte_at(text, i + 2))) return 0;
  if (a < 0xF0) return 3;
  return is_continuation(byte_at(text, i + 3)) ? 4 : 0;
}

bool is_control(unsigned char byte) { return byte < 0x20 || byte == 0x7F; }

/// U+0080..U+009F, as UTF-8: control characters that some terminals obey.
bool is_c1_control(std::string_view text, std::size_t i) {
  return byte_at(text, i) == 0xC2 && byte_at(text, i + 1) >= 0x80 && byte_at(text, i + 1) < 0xA0;
}

/// The character of a well-formed sequence.
char32_t decoded(std::string_view sequence) {
  constexpr unsigned char leads[] = {0x7F, 0x1F, 0x0F, 0x07};
  char32_t character = byte_at(sequence, 0) & leads[sequence.size() - 1];
  for (std::size_t i = 1; i < sequence.size(); ++i) {
    character = (character << 6U) | (byte_at(sequence, i) & 0x3FU);
  }
  return character;
}

/// Characters that show as nothing or as a plain space, or that turn the direction of the text round.
bool is_invisible(char32_t c) {
  return c == 0xA0 || c == 0xAD || (c >= 0x200B && c <= 0x200F) || (c >= 0x2028 && c <= 0x202F) ||
         (c >= 0x2060 && c <= 0x206F) || c == 0xFEFF;
}

}  // namespace

std::optional<BadByte> find_bad_byte(std::string_view text) {
  BadByte here;
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = sequence_length(text, i);
    if (length == 0 || text[i] == '\0') {
      here.byte = byte_at(text, i);
      return here;
    }
    if (text[i] == '\n') {
      ++here.line;
      here.column = 1;
    } else {
      ++here.column;
    }
    i += length;
  }
  return std::nullopt;
}

std::string printable(std::string_view text, std::size_t limit) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    if (out.size() >= limit) return out + "...";
    const std::size_t length = sequence_length(text, i);
    if (length == 0 || is_control(byte_at(text, i)) || is_c1_control(text, i)) {
      out += fmt::format("\\x{:02X}", byte_at(text, i));
      ++i;
      continue;
    }
    const std::string_view sequence = text.substr(i, length);
    const char32_t character = decoded(sequence);
    if (is_invisible(character)) {
      out += fmt::format("\\u{:04X}", static_cast<unsigned>(character));
    } else {
      out += sequence;
    }
    i += length;
  }
  return out;
}

bool has_control_character(std::string_view text) noexcept {
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (is_control(byte_at(text, i)) || is_c1_control(text, i)) return true;
  }
  return false;
}

}  // namespace mendworth::input
