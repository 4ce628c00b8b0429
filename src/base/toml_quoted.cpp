#include "base/toml_quoted.hpp"

#include <fmt/format.h>

namespace mendworth {

std::string toml_quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (byte < 0x20U || byte == 0x7FU) {
      out += fmt::format("\\u{:04X}", static_cast<unsigned>(byte));
    } else {
      out += c;
    }
  }
  return out + '"';
}

}  // namespace mendworth
