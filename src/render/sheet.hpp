#pragma once

#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include "mendworth/render.hpp"

/// A document to be handed over, before it is text, Markdown or HTML. All strings are plain: what a format must escape
/// is escaped where it is written.
namespace mendworth {

struct SheetParagraph {
  std::string text;
  bool strong = false;
};

/// A sentence that must not be overlooked: framed where a frame can be drawn.
struct SheetNotice {
  std::string text;
};

/// Labels and what they say.
struct SheetFacts {
  struct Fact {
    std::string label;
    std::vector<std::string> lines;
  };
  std::vector<Fact> facts;

  /// Nothing is added if no line has text.
  void add(const std::string& label, const std::vector<std::string>& lines);
  void add(const std::string& label, const std::string& line);
};

struct SheetList {
  std::vector<std::string> items;
};

struct SheetTable {
  struct Column {
    std::string heading;
    bool number = true;  ///< to the right, never broken
  };
  enum class Role {
    plain,
    sum,    ///< follows from the rows above; its label goes on over the empty cells beside it
    total,  ///< the same, as what matters
  };
  struct Row {
    std::vector<std::string> cells;  ///< one for each column; the first names the row
    Role role = Role::plain;
  };
  std::string caption;
  std::vector<Column> columns;
  std::vector<Row> rows;
  /// The columns are things to be compared: of equal width, and below each other where a page is too narrow for the
  /// table; else its rows are.
  bool compares_columns = false;
  std::size_t marked_column = 0;  ///< set off by its ground as well as by its words; 0: none
};

/// Room to tick, fill in and sign. Kept on one page.
struct SheetForm {
  std::string title;
  std::vector<std::string> sentences;
  std::vector<std::string> ticks;   ///< boxes, of which one is to be ticked
  std::vector<std::string> blanks;  ///< labels of what is to be filled in
};

using SheetBlock = std::variant<SheetParagraph, SheetNotice, SheetFacts, SheetList, SheetTable, SheetForm>;

struct SheetSection {
  std::string heading;
  std::vector<SheetBlock> blocks;
  std::vector<SheetSection> parts;  ///< one level only
};

struct Sheet {
  std::string name;                     ///< of the file in a window's title
  std::vector<std::string> letterhead;  ///< lines; the first is the shop's name
  std::string mark;  ///< above the title, for whom or of what kind the page is; may be empty
  std::string title;
  std::vector<SheetBlock> opening;
  std::vector<SheetSection> sections;
};

[[nodiscard]] std::string sheet_text(const Sheet& sheet, const TextStyle& style);
/// GitHub-flavoured Markdown.
[[nodiscard]] std::string sheet_markdown(const Sheet& sheet);
/// One self-contained HTML5 file.
[[nodiscard]] std::string sheet_html(const Sheet& sheet);

/// The rules of looks that sheet_html puts into its file: for a screen of any width and for paper of any size.
[[nodiscard]] const std::string& sheet_style_rules();

/// One line of text: line breaks, tabs and runs of spaces become one space each, none at the ends; what no page can
/// show becomes U+FFFD.
[[nodiscard]] std::string one_line(const std::string& text);

}  // namespace mendworth
