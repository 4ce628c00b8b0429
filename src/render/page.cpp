#include "render/page.hpp"

#include <algorithm>
#include <cstddef>

#include "render/layout.hpp"

namespace mendworth {

namespace {

constexpr int table_indent = 2;

std::string spaces(int count) { return std::string(static_cast<std::size_t>(std::max(0, count)), ' '); }

}  // namespace

void Page::heading(std::string_view text) {
  empty_line();
  paragraph(text, true);
}

void Page::paragraph(std::string_view text, bool strong, int indent, int hanging) {
  const int width = style_.width - indent - hanging;
  bool first = true;
  for (const std::string& piece : wrapped(printable(text), width)) {
    line(spaces(first ? indent : indent + hanging) + piece, strong);
    first = false;
  }
}

void Page::item(std::string_view text) { paragraph("- " + std::string(text), false, 2, 2); }

void Page::table(const Table& table) {
  for (const Table::Line& row : table.lines(style_.width - table_indent)) {
    line(spaces(table_indent) + row.text, row.strong);
  }
}

void Page::picture(const std::vector<std::string>& lines) {
  for (const std::string& piece : lines) line(spaces(table_indent) + piece, false);
}

void Page::empty_line() { text_ += '\n'; }

void Page::line(std::string_view text, bool strong) {
  const std::string plain = with_plain_spaces(text);
  if (strong && style_.color) {
    text_ += "\x1b[1m";
    text_ += plain;
    text_ += "\x1b[0m";
  } else {
    text_ += plain;
  }
  text_ += '\n';
}

}  // namespace mendworth
