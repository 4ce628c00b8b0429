#include "render/sheet.hpp"

#include <algorithm>

#include "render/layout.hpp"

namespace mendworth {

void SheetFacts::add(const std::string& label, const std::vector<std::string>& lines) {
  const bool says_something =
      std::any_of(lines.begin(), lines.end(), [](const std::string& line) { return !line.empty(); });
  if (says_something) facts.push_back({label, lines});
}

void SheetFacts::add(const std::string& label, const std::string& line) { add(label, std::vector{line}); }

std::string one_line(const std::string& text) {
  std::string out;
  bool space_before = true;
  for (char c : text) {
    if (c == '\n' || c == '\r' || c == '\t') c = ' ';
    if (c == ' ' && space_before) continue;
    space_before = c == ' ';
    out += c;
  }
  if (out.ends_with(' ')) out.pop_back();
  return printable(out);
}

}  // namespace mendworth
