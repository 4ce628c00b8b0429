#pragma once

#include <string>
#include <string_view>

/// Cells of CSV that a spreadsheet would not show but run. Names come from case files, which anybody may have written.
namespace mendworth {

/// A text that begins as a formula does (=, @, a tab or carriage return, or a sign before what is no number) with an
/// apostrophe before it, which makes a spreadsheet show it; any other text as it is, and so is one that begins with an
/// apostrophe before such a text, which gets one more, so that `as_named` gives every text back.
/// Source: OWASP, CSV Injection.
[[nodiscard]] std::string defused(std::string_view text);

/// The text that `defused` was given: what a reader of CSV takes for a name.
[[nodiscard]] std::string_view as_named(std::string_view cell);

}  // namespace mendworth
