#pragma once

#include <algorithm>
#include <sstream>
#include <string>

#include "mendworth/render.hpp"
#include "render/layout.hpp"

/// Looking at pages of text.
namespace mendworth::testing {

inline std::string page_of(const Weighing& w) { return weighing_page(w, {.show = {"all"}}); }

inline bool contains(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

/// With every run of blanks and line ends as one blank.
inline std::string unwrapped(const std::string& text) {
  std::string flat;
  for (const char ch : text) {
    const char plain = ch == '\n' ? ' ' : ch;
    if (plain != ' ' || flat.empty() || flat.back() != ' ') flat += plain;
  }
  return flat;
}

inline int widest_line(const std::string& text) {
  std::istringstream lines(text);
  int widest = 0;
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, display_width(line));
  return widest;
}

inline std::string without_escapes(std::string text) {
  for (const char* escape : {"\x1b[1m", "\x1b[0m"}) {
    for (std::size_t at = text.find(escape); at != std::string::npos; at = text.find(escape)) {
      text.erase(at, std::string(escape).size());
    }
  }
  return text;
}

}  // namespace mendworth::testing
