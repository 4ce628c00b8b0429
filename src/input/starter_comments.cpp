#include "input/starter_comments.hpp"

#include <algorithm>
#include <set>

namespace mendworth::input {

namespace {

constexpr std::size_t comment_column = 31;
constexpr std::size_t widest_line = 118;

/// The section that a line opens; empty for any other line.
std::string_view section_of(std::string_view line) {
  if (!line.starts_with('[')) return {};
  line.remove_prefix(std::min(line.find_first_not_of('['), line.size()));
  return line.substr(0, line.find(']'));
}

/// The key that a line sets, or would set if it were no comment.
std::string_view key_of(std::string_view line) {
  if (line.starts_with("# ")) line.remove_prefix(2);
  const std::string_view key = line.substr(0, line.find(" = "));
  const bool is_key = key.size() < line.size() &&
                      key.find_first_not_of("abcdefghijklmnopqrstuvwxyz_") == std::string_view::npos;
  return is_key ? key : std::string_view{};
}

std::string comment_of(const Input& input) {
  std::string text = input.starred ? "*" : "";
  if (!input.help.empty()) text += (text.empty() ? "" : " ") + std::string(input.help);
  return text;
}

}  // namespace

std::string comment(std::string_view text) {
  std::string out, line = "#";
  while (!text.empty()) {
    const std::string_view word = text.substr(0, text.find(' '));
    text.remove_prefix(std::min(word.size() + 1, text.size()));
    if (line.size() + 1 + word.size() > widest_line) {
      out += line + '\n';
      line = "#";
    }
    line.append(" ").append(word);
  }
  return out + line + '\n';
}

std::string commented(std::string_view toml, std::span<const Input> table) {
  std::string out, section;
  std::set<std::string> said;
  while (!toml.empty()) {
    const std::string_view line = toml.substr(0, toml.find('\n'));
    toml.remove_prefix(std::min(line.size() + 1, toml.size()));
    out += line;
    std::string name(section_of(line));
    if (!name.empty()) {
      section = name;
    } else if (const std::string_view key = key_of(line); !key.empty()) {
      name = section + '.' + std::string(key);
    }
    const Input* input = name.empty() ? nullptr : find_input(table, name);
    if (input != nullptr && said.insert(name).second && line.find('#', 1) == std::string_view::npos) {
      if (const std::string comment = comment_of(*input); !comment.empty()) {
        out.append(line.size() < comment_column ? comment_column - line.size() : 2, ' ');
        out += "# " + comment;
      }
    }
    out += '\n';
  }
  return out;
}

}  // namespace mendworth::input
