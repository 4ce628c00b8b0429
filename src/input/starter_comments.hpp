#pragma once

#include <span>
#include <string>
#include <string_view>

#include "domain/inputs.hpp"

namespace mendworth::input {

/// A TOML text with what the table says of each section and key behind the first line that has it, marked with a star
/// where it must be there. Lines with a comment of their own stay, and so do those of no key.
[[nodiscard]] std::string commented(std::string_view toml, std::span<const Input> table);

/// Words as lines of a comment, none wider than a starter's widest.
[[nodiscard]] std::string comment(std::string_view text);

}  // namespace mendworth::input
