#include "cli/problem_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

constexpr int indent = 4;
constexpr int behind_caret = 20;  ///< a line is cut in front so that so much of it stands behind the mark

bool continues_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// Where the code point of this number, counted from 0, begins; the size if there are fewer.
std::size_t byte_of(std::string_view text, std::size_t code_point) {
  std::size_t at = 0;
  for (; at < text.size(); ++at) {
    if (!continues_code_point(text[at]) && code_point-- == 0) break;
  }
  return at;
}

std::string excerpt_text(const Diagnostic& problem, int columns) {
  const auto widest = static_cast<std::size_t>(columns - indent), caret_by = widest - behind_caret;
  std::string line = problem.excerpt;
  std::replace(line.begin(), line.end(), '\t', ' ');
  std::size_t before = static_cast<std::size_t>(std::max(problem.column, 1)) - 1;
  std::string start;
  if (before > caret_by) {
    const std::size_t kept = caret_by / 2;
    start = "...";
    line.erase(0, byte_of(line, before - kept));
    before = kept;
  }
  const std::string left = printable(start + line.substr(0, byte_of(line, before)));
  const std::string right = printable(line.substr(byte_of(line, before)));
  std::string shown = left + right;
  if (display_width(shown) > columns - indent) shown = shown.substr(0, byte_of(shown, widest - 3)) + "...";
  std::string text = fmt::format("{:{}}{}\n", "", indent, shown);
  if (problem.column > 0) text += fmt::format("{:{}}^\n", "", indent + display_width(left));
  return text;
}

/// The text with what stands between single quotes kept on one line; an apostrophe within a word is none.
std::string with_quotes_kept(const std::string& text) {
  std::string out;
  std::size_t done = 0;
  const auto begins_word = [&](std::size_t at) {
    return at == 0 || text[at - 1] == ' ' || text[at - 1] == '(';
  };
  const auto ends_word = [&](std::size_t at) {
    return at + 1 == text.size() || std::string_view(" ,;:.)?").find(text[at + 1]) != std::string_view::npos;
  };
  for (std::size_t from = text.find('\''); from != std::string::npos; from = text.find('\'', from + 1)) {
    if (!begins_word(from)) continue;
    std::size_t to = text.find('\'', from + 1);
    while (to != std::string::npos && !ends_word(to)) to = text.find('\'', to + 1);
    if (to == std::string::npos) break;
    out += text.substr(done, from - done) + kept_together(text.substr(from, to - from));
    done = from = to;
  }
  return out + text.substr(done);
}

/// The text with each short table in braces, "{ low = 3, high = 8 }", kept on one line.
std::string with_ranges_kept(const std::string& text) {
  constexpr std::size_t longest = 40;
  std::string out;
  std::size_t done = 0;
  for (std::size_t from = text.find('{'); from != std::string::npos; from = text.find('{', from + 1)) {
    const std::size_t to = text.find('}', from);
    if (to == std::string::npos) break;
    if (to - from >= longest) continue;
    out += text.substr(done, from - done) + kept_together(text.substr(from, to + 1 - from));
    from = to;
    done = to + 1;
  }
  return out + text.substr(done);
}

}  // namespace

std::string message_text(const std::string& message, int columns) {
  constexpr int further = 2;
  std::string text;
  // What is said about a file may hold bytes of the file.
  for (const std::string& line :
       wrapped(with_quotes_kept(with_ranges_kept(printable(message))), columns - further, LongWord::whole))
    text += fmt::format("{:{}}{}\n", "", text.empty() ? 0 : further, with_plain_spaces(line));
  return text;
}

std::string problems_text(const std::vector<Diagnostic>& problems, int columns) {
  std::string text;
  for (const Diagnostic& problem : problems) {
    text += message_text(problem.text(), columns);
    if (problem.excerpt.find_first_not_of(" \t") != std::string::npos) text += excerpt_text(problem, columns);
  }
  if (problems.size() > 1) text += fmt::format("{} problems\n", problems.size());
  return text;
}

}  // namespace mendworth::cli
