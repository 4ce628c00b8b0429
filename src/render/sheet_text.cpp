#include <algorithm>
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include "render/layout.hpp"
#include "render/page.hpp"
#include "render/sheet.hpp"
#include "render/table.hpp"

namespace mendworth {

namespace {

constexpr int indent = 2;  // of Page::picture and Page::table
constexpr int widest_label = 26;
constexpr int least_heading = 8, widest_heading = 20;

std::string rule(char c, int width) { return std::string(static_cast<std::size_t>(std::max(0, width)), c); }

// A heading above a column whose cells need so many columns.
std::string broken_heading(const std::string& heading, int cells) {
  int longest_word = 0;
  for (const std::string& word : wrapped(heading, 2 * widest_heading)) {
    std::size_t from = 0;
    while (from <= word.size()) {
      const std::size_t to = std::min(word.find(' ', from), word.size());
      longest_word = std::max(longest_word, display_width(word.substr(from, to - from)));
      from = to + 1;
    }
  }
  const int width = std::max({cells, least_heading, std::min(longest_word, widest_heading)});
  std::string text;
  for (const std::string& piece : wrapped(heading, width)) text += (text.empty() ? "" : "\n") + piece;
  return text;
}

// A text that ends in letters written from right to left would draw the numbers beside it into its own direction.
std::string cell_text(const std::string& text) {
  constexpr const char* left_to_right_mark = "\u200E";
  const std::string line = one_line(text);
  return ends_right_to_left(line) ? line + left_to_right_mark : line;
}

Table table_of(const SheetTable& sheet) {
  std::vector<Table::Column> columns;
  for (std::size_t i = 0; i < sheet.columns.size(); ++i) {
    int widest = 0;
    for (const SheetTable::Row& row : sheet.rows)
      widest = std::max(widest, display_width(one_line(row.cells[i])));
    const SheetTable::Column& column = sheet.columns[i];
    columns.push_back({broken_heading(one_line(column.heading), column.number ? widest : widest_heading),
                       column.number ? Table::Align::right : Table::Align::left, !column.number});
  }
  Table table(columns);
  auto before = SheetTable::Role::plain;
  for (const SheetTable::Row& row : sheet.rows) {
    if (before == SheetTable::Role::plain && row.role != before) table.add_rule();
    before = row.role;
    std::vector<std::string> cells;
    for (const std::string& cell : row.cells) cells.push_back(cell_text(cell));
    table.add_row(cells, row.role == SheetTable::Role::total);
  }
  return table;
}

class TextWriter {
 public:
  explicit TextWriter(const TextStyle& style) : page_(style), width_(style.width) {}

  void write(const Sheet& sheet) {
    for (std::size_t i = 0; i < sheet.letterhead.size(); ++i)
      page_.paragraph(one_line(sheet.letterhead[i]), i == 0);
    if (!sheet.letterhead.empty()) page_.empty_line();
    if (!sheet.mark.empty()) {
      page_.paragraph("*** " + sheet.mark + " ***", true);
      page_.empty_line();
    }
    page_.paragraph(sheet.title, true);
    page_.paragraph(rule('=', display_width(sheet.title)));
    blocks(sheet.opening);
    for (const SheetSection& section : sheet.sections) {
      page_.heading(section.heading);
      page_.paragraph(rule('-', display_width(section.heading)));
      blocks(section.blocks, false);
      for (const SheetSection& part : section.parts) {
        page_.heading(one_line(part.heading));
        blocks(part.blocks, false);
      }
    }
  }
  [[nodiscard]] const std::string& text() const { return page_.text(); }

  void operator()(const SheetParagraph& paragraph) {
    page_.paragraph(one_line(paragraph.text), paragraph.strong);
  }
  void operator()(const SheetNotice& notice) { page_.paragraph(one_line(notice.text), true); }
  void operator()(const SheetList& list) {
    for (const std::string& item : list.items) page_.item(one_line(item));
  }

  void operator()(const SheetFacts& facts) {
    int column = 0;
    for (const SheetFacts::Fact& fact : facts.facts)
      column = std::max(column, display_width(one_line(fact.label)) + 1);
    column = std::min(column, widest_label);
    for (const SheetFacts::Fact& fact : facts.facts) {
      std::vector<std::string> values;
      for (const std::string& value : fact.lines) {
        for (const std::string& piece : wrapped(one_line(value), width_ - indent - column - 2))
          values.push_back(piece);
      }
      beside(wrapped(one_line(fact.label) + ":", column), values, column);
    }
  }

  void operator()(const SheetTable& sheet) {
    const Table table = table_of(sheet);
    const auto lines = table.lines(width_ - indent);
    const bool fits = std::all_of(lines.begin(), lines.end(), [&](const Table::Line& line) {
      return display_width(line.text) <= width_ - indent;
    });
    if (fits) {
      page_.table(table);
    } else if (sheet.compares_columns) {
      columns_below_each_other(sheet);
    } else {
      rows_below_each_other(sheet);
    }
  }

  void operator()(const SheetForm& form) {
    const int width = width_ - 2 * indent;
    page_.picture({rule('-', width), form.title});
    page_.empty_line();
    for (const std::string& sentence : form.sentences) hanging("", sentence, width);
    for (const std::string& tick : form.ticks) hanging("[ ] ", tick, width);
    int column = 0;
    for (const std::string& blank : form.blanks) column = std::max(column, display_width(blank) + 2);
    for (const std::string& blank : form.blanks) {
      page_.empty_line();
      page_.picture({padded_right(blank, column) + rule('_', width - column)});
    }
    page_.picture({rule('-', width)});
  }

 private:
  void blocks(const std::vector<SheetBlock>& blocks, bool empty_line_first = true) {
    for (const SheetBlock& block : blocks) {
      if (empty_line_first) page_.empty_line();
      empty_line_first = true;
      std::visit(*this, block);
    }
  }

  void hanging(const std::string& mark, const std::string& text, int width) {
    std::vector<std::string> lines = wrapped(one_line(text), width - display_width(mark));
    for (std::string& line : lines)
      line.insert(0, &line == &lines.front() ? mark : rule(' ', display_width(mark)));
    page_.picture(lines);
  }

  void beside(const std::vector<std::string>& labels, const std::vector<std::string>& values, int column) {
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < std::max(labels.size(), values.size()); ++i) {
      std::string line = padded_right(i < labels.size() ? labels[i] : "", column);
      line += "  " + (i < values.size() ? values[i] : "");
      line.erase(line.find_last_not_of(' ') + 1);
      lines.push_back(line);
    }
    page_.picture(lines);
  }

  void rows_below_each_other(const SheetTable& sheet) {
    for (const SheetTable::Row& row : sheet.rows) {
      SheetFacts facts;
      if (row.role != SheetTable::Role::plain) {
        facts.add(row.cells.front(), row.cells.back());
      } else {
        page_.paragraph(one_line(row.cells.front()), false, indent, indent);
        for (std::size_t i = 1; i < row.cells.size(); ++i) facts.add(sheet.columns[i].heading, row.cells[i]);
      }
      (*this)(facts);
    }
  }

  void columns_below_each_other(const SheetTable& sheet) {
    for (std::size_t i = 1; i < sheet.columns.size(); ++i) {
      if (i > 1) page_.empty_line();
      page_.paragraph(one_line(sheet.columns[i].heading), true, indent, indent);
      SheetFacts facts;
      for (const SheetTable::Row& row : sheet.rows) facts.add(row.cells.front(), row.cells[i]);
      (*this)(facts);
    }
  }

  Page page_;
  int width_;
};

}  // namespace

std::string sheet_text(const Sheet& sheet, const TextStyle& style) {
  TextWriter writer(style);
  writer.write(sheet);
  return writer.text();
}

}  // namespace mendworth
