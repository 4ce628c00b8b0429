#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "mendworth/render.hpp"
#include "render/table.hpp"

namespace mendworth {

/// A page of text being written from top to bottom: sections, paragraphs, items, tables. Everything is wrapped
/// to the width; emphasis is bold, and only if colour is on.
class Page {
 public:
  explicit Page(const TextStyle& style) : style_(style) {}

  /// An empty line, then a heading.
  void heading(std::string_view text);
  /// A paragraph that begins at `indent` columns; the lines after the first begin at `indent + hanging`.
  void paragraph(std::string_view text, bool strong = false, int indent = 0, int hanging = 0);
  /// A paragraph that begins with "- ".
  void item(std::string_view text);
  void table(const Table& table);
  /// Lines that are written as they are, indented like a table.
  void picture(const std::vector<std::string>& lines);
  void empty_line();

  [[nodiscard]] const std::string& text() const noexcept { return text_; }

 private:
  void line(std::string_view text, bool strong);

  TextStyle style_;
  std::string text_;
};

}  // namespace mendworth
