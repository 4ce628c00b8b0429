#include "cli/help_text.hpp"

#include <algorithm>
#include <sstream>
#include <string_view>
#include <vector>

#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

constexpr std::size_t least_beside = 30;  ///< columns for a description beside what it explains
constexpr std::size_t below = 6;          ///< where it begins if it stands below that
constexpr std::size_t far_right = 16;     ///< a line that begins there goes on with the description above it

/// Some words, and what they mean from a column on; a paragraph has no words.
struct Entry {
  std::string words{};
  std::size_t column = 0;
  std::string meaning{};
};

/// Where the description begins behind a gap of two spaces or more; 0 if there is none.
std::size_t column_of_meaning(std::string_view line) {
  const std::size_t gap = line.find("  ", std::min(line.find_first_not_of(' '), line.size()));
  const std::size_t meaning = line.find_first_not_of(' ', gap);
  return gap == std::string_view::npos || meaning == std::string_view::npos ? 0 : meaning;
}

/// Whether a line without indent goes on with the one before, which was wrapped and did not end there.
bool goes_on(const Entry& before) {
  const std::string& text = before.meaning;
  return before.words.empty() && !text.empty() && text.back() != '.' && text.back() != ':' &&
         !text.ends_with("]");
}

std::vector<Entry> entries_of(const std::string& help) {
  std::vector<Entry> entries;
  std::istringstream lines(help);
  for (std::string line; std::getline(lines, line);) {
    const std::size_t indent = std::min(line.find_first_not_of(' '), line.size());
    const bool more = indent >= far_right && !entries.empty();
    if (line.empty() || (indent == 0 && (entries.empty() || !goes_on(entries.back())))) {
      entries.push_back({.meaning = line});
    } else if (more || indent == 0) {
      Entry& before = entries.back();
      if (before.column == 0) before.column = indent;
      before.meaning += (before.meaning.empty() ? "" : " ") + line.substr(indent);
    } else {
      const std::size_t column = column_of_meaning(line);
      entries.push_back({.words = line, .column = column});
      if (column > 0) {
        entries.back().meaning = line.substr(column);
        entries.back().words.resize(line.find_last_not_of(' ', column - 1) + 1);
      }
    }
  }
  return entries;
}

}  // namespace

std::string fitted_help(const std::string& help, int width) {
  std::istringstream lines(help);
  bool fits = true;
  for (std::string line; std::getline(lines, line);) fits = fits && display_width(line) <= width;
  if (fits) return help;

  std::string out;
  for (const Entry& entry : entries_of(help)) {
    const bool beside = entry.column + least_beside <= static_cast<std::size_t>(width) &&
                        entry.words.size() + 1 < entry.column;
    const std::size_t column = entry.words.empty() ? 0 : beside ? entry.column : below;
    std::string line = entry.words;
    if (!entry.words.empty() && !beside && !entry.meaning.empty()) {
      out += line + '\n';
      line.clear();
    }
    for (const std::string& piece : wrapped(entry.meaning, width - static_cast<int>(column))) {
      if (!piece.empty()) line.resize(column, ' ');
      out += line + piece + '\n';
      line.clear();
    }
  }
  return out;
}

}  // namespace mendworth::cli
