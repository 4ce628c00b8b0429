#pragma once

#include <string>

namespace mendworth::cli {

/// The text of a help page for a terminal of so many columns: where a line is too long, descriptions and paragraphs are
/// wrapped anew, with what they explain on the left.
[[nodiscard]] std::string fitted_help(const std::string& help, int width);

}  // namespace mendworth::cli
