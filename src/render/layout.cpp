#include "render/layout.hpp"

#include <utf8proc.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>

namespace mendworth {

namespace {

constexpr std::string_view replacement_character = "\xEF\xBF\xBD";
constexpr std::string_view no_break_space = "\xC2\xA0";

struct CodePoint {
  std::int32_t value = -1;  // -1: not valid UTF-8
  std::size_t bytes = 1;
};

CodePoint code_point_at(std::string_view text, std::size_t at) {
  // The library takes unsigned bytes; char may be signed, and the two may alias.
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data() + at);
  utf8proc_int32_t value = -1;
  const auto used = utf8proc_iterate(bytes, static_cast<utf8proc_ssize_t>(text.size() - at), &value);
  if (used <= 0) return {};
  return {value, static_cast<std::size_t>(used)};
}

bool is_control(std::int32_t value) {
  const auto category = utf8proc_category(value);
  return category == UTF8PROC_CATEGORY_CC || category == UTF8PROC_CATEGORY_ZL ||
         category == UTF8PROC_CATEGORY_ZP || (value >= 0x202A && value <= 0x202E) ||
         (value >= 0x2066 && value <= 0x2069) ||  // direction overrides would reorder the line
         (value & 0xFFFE) == 0xFFFE;              // no characters: XML has no place for them
}

int columns_of(const CodePoint& point) {
  return point.value < 0 ? 1 : std::max(0, utf8proc_charwidth(point.value));
}

// Length in bytes of the longest start of `text` that fits into `width` columns; at least one code point.
std::size_t bytes_within(std::string_view text, int width) {
  std::size_t at = 0;
  int used = 0;
  while (at < text.size()) {
    const CodePoint point = code_point_at(text, at);
    used += columns_of(point);
    if (used > width && at > 0) break;
    at += point.bytes;
  }
  return at;
}

std::string with_replaced(std::string_view text, std::string_view from, std::string_view to) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    if (text.substr(at).starts_with(from)) {
      out += to;
      at += from.size();
    } else {
      out += text[at++];
    }
  }
  return out;
}

/// A currency's code or sign.
bool is_currency(std::string_view word) {
  const bool code =
      word.size() == 3 && std::ranges::all_of(word, [](char c) { return c >= 'A' && c <= 'Z'; });
  return code || (!word.empty() && word.size() <= 3 && static_cast<unsigned char>(word.front()) >= 0x80);
}

bool is_amount(std::string_view first, std::string_view second) {
  if (first.empty() || second.empty()) return false;
  const char start = second.front() == '-' && second.size() > 1 ? second[1] : second.front();
  if (is_digit(start))
    return is_currency(first.substr(std::min(first.find_first_not_of("(-"), first.size())));
  if (!is_digit(first.back())) return false;
  second = second.substr(0, second.find_last_not_of(".,;:)") + 1);
  return second == "%" || second == "min" || second == "h" || is_currency(second);
}

}  // namespace

std::string printable(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = code_point_at(text, at);
    if (point.value < 0 || is_control(point.value)) {
      out += replacement_character;
    } else {
      out += text.substr(at, point.bytes);
    }
    at += point.bytes;
  }
  return out;
}

int display_width(std::string_view text) {
  int width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = code_point_at(text, at);
    width += columns_of(point);
    at += point.bytes;
  }
  return width;
}

bool ends_right_to_left(std::string_view text) {
  bool right_to_left = false;
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = code_point_at(text, at);
    const int direction = point.value < 0 ? 0 : utf8proc_get_property(point.value)->bidi_class;
    if (direction == UTF8PROC_BIDI_CLASS_L) right_to_left = false;
    if (direction == UTF8PROC_BIDI_CLASS_R || direction == UTF8PROC_BIDI_CLASS_AL) right_to_left = true;
    at += point.bytes;
  }
  return right_to_left;
}

std::string padded_right(std::string_view text, int width) {
  std::string out(text);
  out.append(static_cast<std::size_t>(std::max(0, width - display_width(text))), ' ');
  return out;
}

std::string padded_left(std::string_view text, int width) {
  std::string out(static_cast<std::size_t>(std::max(0, width - display_width(text))), ' ');
  out += text;
  return out;
}

std::string kept_together(std::string_view text) { return with_replaced(text, " ", no_break_space); }

std::string with_units_kept(std::string_view text) {
  std::string out;
  std::string_view before;
  while (!text.empty()) {
    const std::string_view word = text.substr(0, text.find(' '));
    if (!out.empty()) out += is_amount(before, word) ? no_break_space : " ";
    out += word;
    before = word;
    text.remove_prefix(std::min(word.size() + 1, text.size()));
  }
  return out;
}

std::string with_plain_spaces(std::string_view text) { return with_replaced(text, no_break_space, " "); }

std::vector<std::string> wrapped(std::string_view text, int width, LongWord long_word) {
  std::vector<std::string> lines(1);
  int used = 0;
  while (!text.empty()) {
    const std::size_t word_start = text.find_first_not_of(' ');
    if (word_start == std::string_view::npos) break;
    text.remove_prefix(word_start);
    std::string_view word = text.substr(0, text.find(' '));
    text.remove_prefix(word.size());

    int columns = display_width(word);
    if (used > 0 && used + 1 + columns > width) {
      lines.emplace_back();
      used = 0;
    }
    while (long_word == LongWord::cut && columns > width) {
      const std::size_t cut = bytes_within(word, width);
      lines.back() = std::string(word.substr(0, cut));
      lines.emplace_back();
      word.remove_prefix(cut);
      columns = display_width(word);
    }
    if (used > 0) {
      lines.back() += ' ';
      ++used;
    }
    lines.back() += word;
    used += columns;
  }
  if (lines.size() > 1 && lines.back().empty()) lines.pop_back();
  return lines;
}

}  // namespace mendworth
