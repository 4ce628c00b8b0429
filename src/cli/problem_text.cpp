#include "cli/problem_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

constexpr int indent = 4;
constexpr int widest_excerpt = 76;
constexpr std::size_t caret_by = 56;  ///< a line is cut in front so that the mark stands no further right

bool continues_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// Where the code point of this number, counted from 0, begins; the size if there are fewer.
std::size_t byte_of(std::string_view text, std::size_t code_point) {
  std::size_t at = 0;
  for (; at < text.size(); ++at) {
    if (!continues_code_point(text[at]) && code_point-- == 0) break;
  }
  return at;
}

std::string excerpt_text(const Diagnostic& problem) {
  std::string line = problem.excerpt;
  std::replace(line.begin(), line.end(), '\t', ' ');
  std::size_t before = static_cast<std::size_t>(std::max(problem.column, 1)) - 1;
  std::string start;
  if (before > caret_by) {
    constexpr std::size_t kept = caret_by / 2;
    start = "...";
    line.erase(0, byte_of(line, before - kept));
    before = kept;
  }
  const std::string left = printable(start + line.substr(0, byte_of(line, before)));
  const std::string right = printable(line.substr(byte_of(line, before)));
  std::string shown = left + right;
  if (display_width(shown) > widest_excerpt)
    shown = shown.substr(0, byte_of(shown, widest_excerpt - 3)) + "...";
  std::string text = fmt::format("{:{}}{}\n", "", indent, shown);
  if (problem.column > 0) text += fmt::format("{:{}}^\n", "", indent + display_width(left));
  return text;
}

}  // namespace

std::string problems_text(const std::vector<Diagnostic>& problems) {
  std::string text;
  for (const Diagnostic& problem : problems) {
    // What is said about a file may hold bytes of the file.
    text += printable(problem.text()) + '\n';
    if (problem.excerpt.find_first_not_of(" \t") != std::string::npos) text += excerpt_text(problem);
  }
  if (problems.size() > 1) text += fmt::format("{} problems\n", problems.size());
  return text;
}

}  // namespace mendworth::cli
