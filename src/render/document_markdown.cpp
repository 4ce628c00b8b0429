#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "render/document.hpp"

// GitHub-flavoured Markdown: CommonMark with tables and task lists. Every ASCII punctuation mark may be escaped with a
// backslash (CommonMark 0.31.2, 2.4 Backslash escapes).
namespace mendworth {

namespace {

constexpr int blank_width = 30;

bool is_special(char c) {
  constexpr std::string_view special = "\\`*_[]<>&|#~$";
  return special.find(c) != std::string_view::npos;
}

// Text that means nothing but itself, wherever in a line it stands but at its start. Bare addresses of pages must not
// become links either: the colon of "://" and the point after "www" are escaped.
std::string markdown_text(const std::string& text) {
  const std::string line = one_line(text);
  const std::string_view view = line;
  std::string out;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const bool address =
        view.substr(i).starts_with("://") ||
        (line[i] == '.' && i >= 3 && (view.substr(i - 3, 3) == "www" || view.substr(i - 3, 3) == "WWW"));
    if (is_special(line[i]) || address) out += '\\';
    out += line[i];
  }
  return out;
}

// The same at the start of a line, where marks of lists, rules and underlines count as well.
std::string escaped_at_start(const std::string& text) {
  std::string out = markdown_text(text);
  if (out.starts_with('-') || out.starts_with('+') || out.starts_with('=') || out.starts_with(':'))
    return "\\" + out;
  const std::size_t digits = out.find_first_not_of("0123456789");
  if (digits != std::string::npos && digits > 0 && (out[digits] == '.' || out[digits] == ')'))
    out.insert(digits, 1, '\\');
  return out;
}

class MarkdownWriter {
 public:
  void write(const Document& document) {
    for (std::size_t i = 0; i < document.letterhead.size(); ++i) {
      const std::string line = one_line(document.letterhead[i]);
      if (line.empty()) continue;
      text_ += i == 0 ? "**" + markdown_text(line) + "**" : escaped_at_start(line);
      text_ += i + 1 < document.letterhead.size() ? "\\\n" : "\n";
    }
    if (!document.mark.empty()) paragraph("**" + markdown_text(document.mark) + "**");
    paragraph("# " + markdown_text(document.title));
    blocks(document.opening);
    for (const Section& section : document.sections) {
      if (section.empty()) continue;
      if (!section.heading.empty()) paragraph("## " + markdown_text(section.heading));
      blocks(section.blocks);
      for (const Section& part : section.parts) {
        paragraph("### " + markdown_text(part.heading));
        blocks(part.blocks);
      }
    }
    for (const Paragraph& closing : document.closing) (*this)(closing);
  }
  [[nodiscard]] std::string text() && { return std::move(text_); }

  void operator()(const Paragraph& block) {
    paragraph(block.strong ? "**" + markdown_text(block.text) + "**" : escaped_at_start(block.text));
  }
  void operator()(const Notice& block) { paragraph("> **" + markdown_text(block.text) + "**"); }
  void operator()(const List& block) {
    new_paragraph();
    for (const std::string& item : block.items) text_ += "- " + escaped_at_start(item) + "\n";
  }
  void operator()(const Chart& block) {
    const std::vector<std::string> lines = chart_text(block, picture_width, true);
    if (lines.empty()) return;
    paragraph("*" + markdown_text(block.title) + "*");
    new_paragraph();
    text_ += "```text\n";
    for (const std::string& line : lines) text_ += line + "\n";
    text_ += "```\n";
  }
  void operator()(const Facts& block) {
    // Two lists with an empty line between them would be read as one with gaps.
    if (!ends_with_facts_) new_paragraph();
    for (const Facts::Fact& fact : block.facts) {
      text_ += "- **" + markdown_text(fact.label) + ":**";
      if (fact.lines.size() == 1) {
        text_ += " " + markdown_text(fact.lines.front()) + "\n";
        continue;
      }
      text_ += "\n";
      for (const std::string& line : fact.lines) text_ += "  - " + escaped_at_start(line) + "\n";
    }
  }
  void operator()(const Table& block) {
    if (!block.caption.empty()) paragraph("*" + markdown_text(block.caption) + "*");
    new_paragraph();
    const bool marks = block.has_marks();
    std::string rule = marks ? "| --- |" : "|";
    text_ += marks ? "| |" : "|";
    for (const Table::Column& column : block.columns) {
      text_ += " " + markdown_text(column.heading) + " |";
      rule += column.number ? " ---: |" : " --- |";
    }
    text_ += "\n" + rule + "\n";
    for (const Table::Row& row : block.rows) {
      const bool strong = row.role == Table::Role::total || row.role == Table::Role::best;
      const std::string mark = strong ? "**" : "";
      text_ += marks ? "| " + markdown_text(row.mark) + " |" : "|";
      for (const std::string& cell : row.cells) {
        text_ += ' ';
        if (!cell.empty()) text_.append(mark).append(markdown_text(cell)).append(mark);
        text_ += " |";
      }
      text_ += "\n";
    }
  }
  void operator()(const Form& block) {
    paragraph("### " + markdown_text(block.title));
    for (const std::string& sentence : block.sentences) paragraph(escaped_at_start(sentence));
    if (!block.ticks.empty()) new_paragraph();
    for (const std::string& tick : block.ticks) text_ += "- [ ] " + markdown_text(tick) + "\n";
    std::string blank;
    for (int i = 0; i < blank_width; ++i) blank += "\\_";
    for (const std::string& label : block.blanks) paragraph(escaped_at_start(label) + ": " + blank);
  }

 private:
  void new_paragraph() {
    if (!text_.empty()) text_ += "\n";
  }
  void paragraph(const std::string& line) {
    new_paragraph();
    text_ += line + "\n";
  }
  void blocks(const std::vector<DocumentBlock>& blocks) {
    ends_with_facts_ = false;
    for (const DocumentBlock& block : blocks) {
      std::visit(*this, block);
      ends_with_facts_ = std::holds_alternative<Facts>(block);
    }
  }

  std::string text_;
  bool ends_with_facts_ = false;
};

}  // namespace

std::string document_markdown(const Document& document) {
  MarkdownWriter writer;
  writer.write(document);
  return std::move(writer).text();
}

}  // namespace mendworth
