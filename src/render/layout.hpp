#pragma once

#include <string>
#include <string_view>
#include <vector>

/// Text in columns of a terminal: widths, padding, wrapping. All text is UTF-8.
namespace mendworth {

/// The text without anything that could move a cursor or break a line: control characters and invalid bytes
/// become U+FFFD. Names come from case files, which anybody may have written.
[[nodiscard]] std::string printable(std::string_view text);

/// Columns that a printable text takes; wide characters count 2, combining ones 0.
[[nodiscard]] int display_width(std::string_view text);

/// Whether the last letter of a printable text that has a direction is written from right to left.
[[nodiscard]] bool ends_right_to_left(std::string_view text);

/// The text with spaces added on its right (left) up to `width` columns; longer text is returned as it is.
[[nodiscard]] std::string padded_right(std::string_view text, int width);
[[nodiscard]] std::string padded_left(std::string_view text, int width);

[[nodiscard]] constexpr bool is_digit(char c) noexcept { return c >= '0' && c <= '9'; }

/// A text in which no number is parted from its unit at the end of a line: "EUR 12.50", "12,50 \u20AC", "5 %", "50 min".
[[nodiscard]] std::string with_units_kept(std::string_view text);

/// The text with its spaces made no-break spaces (U+00A0), at which `wrapped` does not break. A page writes
/// them as ordinary spaces.
[[nodiscard]] std::string kept_together(std::string_view text);
[[nodiscard]] std::string with_plain_spaces(std::string_view text);

enum class LongWord { cut, whole };

/// Breaks a printable text at spaces into lines of at most `width` >= 2 columns; a word that is longer is cut, or left
/// whole on a line that is longer then. At least one line.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, int width,
                                               LongWord long_word = LongWord::cut);

}  // namespace mendworth
