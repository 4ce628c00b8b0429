#include "input/reading.hpp"

#include <algorithm>
#include <vector>

namespace mendworth::input {

namespace {

constexpr std::size_t longest_excerpt = 240;  ///< bytes; nobody looks for a column in a longer line

std::string line_of(std::string_view text, int number) {
  for (int line = 1; line < number; ++line) {
    const std::size_t end = text.find('\n');
    if (end == std::string_view::npos) return "";
    text.remove_prefix(end + 1);
  }
  std::string_view line = text.substr(0, text.find('\n'));
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line.size() > longest_excerpt ? "" : std::string(line);
}

}  // namespace

InputError with_excerpts(const InputError& error, std::string_view text, const std::string& source_name) {
  std::vector<Diagnostic> problems = error.problems();
  for (Diagnostic& problem : problems) {
    if (problem.source == source_name && problem.line > 0 && problem.excerpt.empty())
      problem.excerpt = line_of(text, problem.line);
  }
  return InputError(std::move(problems));
}

}  // namespace mendworth::input
