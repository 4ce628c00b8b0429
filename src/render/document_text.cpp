#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <variant>
#include <vector>

#include "render/document.hpp"
#include "render/layout.hpp"

namespace mendworth {

namespace {

constexpr int indent = 2;
constexpr int widest_label = 26;
constexpr int narrow_page = 72;

std::string repeated(char c, int count) {
  return std::string(static_cast<std::size_t>(std::max(0, count)), c);
}

class TextWriter {
 public:
  explicit TextWriter(const PageStyle& style) : style_(style) {}

  void write(const Document& document) {
    answer_ = document.answer;
    close_together_ = document.close_together;
    if (!answer_) {
      head(document);
    } else if (!document.mark.empty()) {
      hanging("", "*** " + document.mark + " ***", 0, true);
    }
    blocks(document.opening, !answer_);
    for (const Section& section : document.sections) {
      if (section.empty()) continue;
      heading(section.heading, !answer_);
      blocks(section.blocks, false);
      for (const Section& part : section.parts) {
        heading(part.heading, false);
        blocks(part.blocks, false);
      }
    }
    if (!document.closing.empty() && !text_.empty() && !close_together_) line("");
    for (const Paragraph& paragraph : document.closing) (*this)(paragraph);
  }
  [[nodiscard]] const std::string& text() const { return text_; }

  void operator()(const Paragraph& paragraph) {
    hanging("", paragraph.text, 0, paragraph.strong, 0, paragraph.copied ? LongWord::whole : LongWord::cut);
  }
  void operator()(const Notice& notice) { hanging("", notice.text, 0, true); }
  void operator()(const List& list) {
    for (const std::string& item : list.items) hanging("- ", item, indent);
  }
  void operator()(const Chart& chart) {
    const std::vector<std::string> picture = chart_text(chart, style_.width - indent, style_.unicode);
    if (picture.empty()) return;
    if (chart.title != heading_) hanging("", chart.title, 0);
    lines(picture);
  }

  // Long ones run on below their labels where a column of labels would take too much of a narrow page.
  void operator()(const Facts& facts) {
    int column = 0;
    std::size_t length = 0;
    for (const Facts::Fact& fact : facts.facts) {
      column = std::max(column, display_width(one_line(fact.label)) + 1);
      for (const std::string& value : fact.lines) length += value.size();
    }
    const bool long_ones = length > 2 * facts.facts.size() * static_cast<std::size_t>(style_.width);
    const bool run_on = style_.width < narrow_page && long_ones;
    column = std::min(column, widest_label);
    for (const Facts::Fact& fact : facts.facts) {
      std::vector<std::string> values;
      std::string label = one_line(fact.label) + ":";
      const int room = style_.width - indent - (run_on ? indent : column + 2);
      for (const std::string& value : fact.lines) {
        const std::string text = with_units_kept(one_line(value));
        for (const std::string& piece : wrapped(run_on ? fmt::format("{} {}", label, text) : text, room))
          values.push_back(piece);
        label = run_on ? "" : label;
      }
      if (run_on) {
        for (std::size_t i = 0; i < values.size(); ++i)
          line(repeated(' ', i == 0 ? indent : 2 * indent) + values[i]);
      } else {
        beside(wrapped(label, column), values, column);
      }
    }
  }

  void operator()(const Table& table) {
    if (answer_ && !table.caption.empty()) hanging("", table.caption, 0);
    const std::vector<TableLine> fitting = table_lines(table, style_.width - indent);
    if (fitting.empty() && table.compares_columns) {
      columns_below_each_other(table);
    } else if (fitting.empty()) {
      rows_below_each_other(table);
    }
    for (const TableLine& row : fitting) line(repeated(' ', indent) + row.text, row.strong);
  }

  void operator()(const Form& form) {
    const int width = style_.width - 2 * indent;
    const auto below = [&](const std::string& text) { line(repeated(' ', indent) + text); };
    below(repeated('-', width));
    below(form.title);
    line("");
    for (const std::string& sentence : form.sentences) hanging("", sentence, indent, false, indent);
    for (const std::string& tick : form.ticks) hanging("[ ] ", tick, indent, false, indent);
    int column = 0;
    for (const std::string& blank : form.blanks) column = std::max(column, display_width(blank) + 2);
    for (const std::string& blank : form.blanks) {
      line("");
      below(padded_right(blank, column) + repeated('_', width - column));
    }
    below(repeated('-', width));
  }

 private:
  void head(const Document& document) {
    for (std::size_t i = 0; i < document.letterhead.size(); ++i)
      hanging("", document.letterhead[i], 0, i == 0);
    if (!document.letterhead.empty()) line("");
    if (!document.mark.empty()) {
      hanging("", "*** " + document.mark + " ***", 0, true);
      line("");
    }
    hanging("", document.title, 0, true);
    line(repeated('=', std::min(display_width(document.title), style_.width)));
  }

  void heading(const std::string& text, bool underlined) {
    heading_ = text;
    if (text.empty()) return;
    if (!text_.empty() && !close_together_) line("");
    hanging("", text, 0, true);
    if (underlined) line(repeated('-', std::min(display_width(text), style_.width)));
  }

  // A letter has an empty line between any two blocks; an answer only before a further table or picture.
  void blocks(const std::vector<DocumentBlock>& blocks, bool empty_line_first) {
    bool first = true;
    bool table_before = false;
    for (const DocumentBlock& block : blocks) {
      const bool table = std::holds_alternative<Table>(block) || std::holds_alternative<Chart>(block);
      const bool gap = answer_ ? table && table_before : !first;
      if (gap || (first && empty_line_first)) line("");
      first = false;
      table_before = table_before || table;
      std::visit(*this, block);
    }
  }

  void line(const std::string& text, bool strong = false) {
    const std::string plain = with_plain_spaces(text);
    text_ += strong && style_.color ? "\x1b[1m" + plain + "\x1b[0m\n" : plain + '\n';
  }
  void lines(const std::vector<std::string>& texts) {
    for (const std::string& text : texts) line(repeated(' ', indent) + text);
  }

  // A paragraph that begins with a mark, below which its other lines do not go.
  void hanging(const std::string& mark, const std::string& text, int from, bool strong = false, int right = 0,
               LongWord long_word = LongWord::cut) {
    const int column = from + display_width(mark);
    std::string before = repeated(' ', from) + mark;
    for (const std::string& piece :
         wrapped(with_units_kept(one_line(text)), style_.width - column - right, long_word)) {
      line(before + piece, strong);
      before = repeated(' ', column);
    }
  }

  void beside(const std::vector<std::string>& labels, const std::vector<std::string>& values, int column) {
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < std::max(labels.size(), values.size()); ++i) {
      std::string line = padded_right(i < labels.size() ? labels[i] : "", column);
      line += "  " + (i < values.size() ? values[i] : "");
      line.erase(line.find_last_not_of(' ') + 1);
      lines.push_back(line);
    }
    this->lines(lines);
  }

  void rows_below_each_other(const Table& table) {
    for (const Table::Row& row : table.rows) {
      Facts facts;
      if (row.role == Table::Role::sum || row.role == Table::Role::total) {
        facts.add(row.cells.front(), row.cells.back());
      } else {
        hanging("", (row.mark.empty() ? "" : row.mark + " ") + row.cells.front(), indent,
                row.role == Table::Role::best);
        for (std::size_t i = 1; i < row.cells.size(); ++i) facts.add(table.columns[i].heading, row.cells[i]);
      }
      (*this)(facts);
    }
  }

  void columns_below_each_other(const Table& table) {
    for (std::size_t i = 1; i < table.columns.size(); ++i) {
      if (i > 1) line("");
      hanging("", table.columns[i].heading, indent, true);
      Facts facts;
      for (const Table::Row& row : table.rows) facts.add(row.cells.front(), row.cells[i]);
      (*this)(facts);
    }
  }

  PageStyle style_;
  bool answer_ = false, close_together_ = false;
  std::string heading_;  ///< the last one
  std::string text_;
};

}  // namespace

std::string document_text(const Document& document, const PageStyle& style) {
  TextWriter writer(style);
  writer.write(document);
  return writer.text();
}

}  // namespace mendworth
