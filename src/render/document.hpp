#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "mendworth/render.hpp"
#include "render/chart.hpp"

/// What is handed over, before it is text, Markdown, HTML or CSV: an answer of a command or a page of a quote. All
/// strings are plain: what a form must escape is escaped where it is written.
namespace mendworth {

/// What is `spare` is left out of a first screen that would be longer than a screen; of what is `copied` no word is cut.
struct Paragraph {
  std::string text;
  bool strong = false;
  bool spare = false;
  bool copied = false;
};

/// A sentence that must not be overlooked: framed where a frame can be drawn.
struct Notice {
  std::string text;
};

/// Labels and what they say.
struct Facts {
  struct Fact {
    std::string label;
    std::vector<std::string> lines;
  };
  std::vector<Fact> facts;

  /// Nothing is added if no line has text.
  void add(const std::string& label, const std::vector<std::string>& lines);
  void add(const std::string& label, const std::string& line);
};

struct List {
  std::vector<std::string> items;
  bool spare = false;
};

struct Table {
  struct Column {
    std::string heading;
    bool number = true;   ///< to the right, never broken
    bool copied = false;  ///< words that somebody copies (a class, a key, a file): never broken either
    bool spare = false;
  };
  enum class Role {
    plain,
    best,   ///< what is advised, among rows to choose from
    sum,    ///< follows from the rows above; its label goes on over the empty cells beside it
    total,  ///< the same, as what matters
  };
  struct Row {
    std::vector<std::string> cells;  ///< one for each column; the first names the row
    Role role = Role::plain;
    std::string mark{};  ///< a sign before the row, which a paragraph below explains
  };
  std::string caption{};
  std::vector<Column> columns{};
  std::vector<Row> rows{};
  /// The columns are things to be compared: of equal width, and below each other where a page is too narrow for the
  /// table; else its rows are.
  bool compares_columns = false;
  std::size_t marked_column = 0;  ///< set off by its ground as well as by its words; 0: none
  std::string name{};             ///< by which --table asks for it; empty: made of the caption
  std::size_t most_shown =
      0;                   ///< rows among others, evenly chosen; alone or as CSV it has all; 0: always all
  std::size_t fewest = 0;  ///< rows, from the first, that stay on a first screen of too many lines; 0: all

  void add(std::vector<std::string> cells, Role role = Role::plain, const std::string& mark = "");
  [[nodiscard]] bool has_marks() const;
};

/// Room to tick, fill in and sign. Kept on one page.
struct Form {
  std::string title;
  std::vector<std::string> sentences;
  std::vector<std::string> ticks;   ///< boxes, of which one is to be ticked
  std::vector<std::string> blanks;  ///< labels of what is to be filled in
};

using DocumentBlock = std::variant<Paragraph, Notice, Facts, List, Table, Chart, Form>;

struct Section {
  std::string heading;  ///< may be empty: goes on where the one before ends
  std::vector<DocumentBlock> blocks{};
  std::vector<Section> parts{};  ///< one level only
  std::string name{};            ///< by which --show asks for it

  void say(const std::string& text, bool strong = false);
  void list(std::vector<std::string> items, bool spare = false);
  /// Nothing is added if the table has no rows, or the chart shows nothing.
  void add(Table table);
  void add(Chart chart);
  [[nodiscard]] bool empty() const { return blocks.empty() && parts.empty(); }
};

/// A section of one block.
template <class Block>
[[nodiscard]] Section headed(const std::string& heading, Block block) {
  return {heading, {std::move(block)}};
}

/// Sections of an answer under a heading of the report.
struct Chapter {
  std::string heading;
  std::vector<std::string> sections;  ///< names; of those that the answer does not have none is missed
};

struct Document {
  std::string name;                     ///< of the file in a window's title
  std::vector<std::string> letterhead;  ///< lines; the first is the shop's name
  std::string mark;  ///< above the title, for whom or of what kind the page is; may be empty
  std::string title;
  std::vector<DocumentBlock> opening;
  std::vector<Section> sections;

  /// An answer on a screen, close together, its title left to forms that need one; else a letter.
  bool answer = false;
  std::vector<Section>
      first_screen{};           ///< shown in place of the sections unless they are asked for; empty: they are
  bool close_together = false;  ///< as text: no empty lines but around tables that follow each other
  long long notes = 0;          ///< said of where there is more
  std::vector<Chapter> report{};  ///< shown as HTML unless sections are asked for; empty: the first screen is
  std::vector<Paragraph> closing{};
};

[[nodiscard]] std::string document_text(const Document& document, const PageStyle& style);
/// GitHub-flavoured Markdown.
[[nodiscard]] std::string document_markdown(const Document& document);
/// One self-contained HTML5 file.
[[nodiscard]] std::string document_html(const Document& document);
/// Parts of one, for a page that has the rules of looks (document_style_rules) already.
[[nodiscard]] std::string html_fragment(const std::vector<DocumentBlock>& blocks);
[[nodiscard]] std::string html_fragment(const Section& section);
/// All of a letter between its letterhead and its last line; its title is a heading of the second level.
[[nodiscard]] std::string html_fragment(const Document& document);
/// Safe in text and between double quotes alike.
[[nodiscard]] std::string html_escaped(std::string_view text);
/// Every table as RFC 4180 has it. Each record begins with the table's name, and the first of a name is its heading. With
/// `bare` there is no name.
[[nodiscard]] std::string document_csv(const Document& document, bool bare = false);

/// What `style` asks for, in its form. Throws UnknownName.
[[nodiscard]] std::string page_of(Document document, const PageStyle& style);

/// The rules of looks that document_html puts into its file: for a screen of any width and for paper of any size.
/// Columns of a chart in plain characters where the width of the page is not known.
inline constexpr int picture_width = 78;

[[nodiscard]] const std::string& document_style_rules();

/// The table's lines, heading and rule first, at most `width` columns wide; none if it needs more.
struct TableLine {
  std::string text;
  bool strong = false;
};
[[nodiscard]] std::vector<TableLine> table_lines(const Table& table, int width);

/// One line of text: line breaks, tabs and runs of spaces become one space each, none at the ends; what no page can
/// show becomes U+FFFD.
[[nodiscard]] std::string one_line(const std::string& text);

/// The sections of an answer, each built by one function; the names are those that --show knows.
template <class Answer>
struct SectionOf {
  const char* name;
  Section (*of)(const Answer&);
};

template <class Answer, std::size_t Count>
std::vector<Section> sections_of(const Answer& answer, const SectionOf<Answer> (&table)[Count]) {
  std::vector<Section> sections;
  for (const auto& [name, of] : table) {
    sections.push_back(of(answer));
    sections.back().name = name;
  }
  return sections;
}

/// Their names; of a table with static storage.
template <const auto& table>
[[nodiscard]] const std::vector<std::string>& section_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const auto& entry : table) all.emplace_back(entry.name);
    return all;
  }();
  return names;
}

}  // namespace mendworth
