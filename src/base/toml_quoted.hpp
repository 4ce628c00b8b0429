#pragma once

#include <string>
#include <string_view>

namespace mendworth {

/// A text as TOML writes it, in straight quotes.
[[nodiscard]] std::string toml_quoted(std::string_view text);

}  // namespace mendworth
