#pragma once

#include <string>
#include <string_view>

#include "domain/inputs.hpp"

/// What stands in a field of the form, and what the file says for it.
namespace mendworth::page {

/// A TOML value as it stands in a field: "2..6" for a range, a line each for a list of texts. A range with a spread of
/// its own, and whatever else a field has no words for, stays as it is written.
[[nodiscard]] std::string shown_text(const Input& input, std::string_view written);

/// What was typed as one TOML value. What is no value of that kind becomes a text in quotes, so that the reader says
/// what is wrong with it. Not for blank text, which stands for no value at all.
[[nodiscard]] std::string written_value(const Input& input, std::string_view typed);

/// Without blanks at its ends.
[[nodiscard]] std::string_view without_blank_ends(std::string_view text);

}  // namespace mendworth::page
