#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "render/document.hpp"

// One HTML5 file with its rules of looks inside: no script, nothing loaded from elsewhere, the same bytes for the same
// document.
namespace mendworth {

namespace {

std::string html_text(const std::string& text) { return html_escaped(one_line(text)); }

// Text between double quotes in rules of looks.
std::string css_text(const std::string& text) {
  std::string out;
  for (const char c : one_line(text)) {
    if (c == '"' || c == '\\' || c == '<') {
      out += c == '<' ? "\\3c " : std::string("\\") + c;
    } else {
      out += c;
    }
  }
  return '"' + out + '"';
}

// On paper each page says of what it is, and which of how many.
std::string page_foot(const std::string& name) {
  return "@page { @bottom-left { content: " + css_text(name) +
         "; font: 8pt sans-serif; }\n  @bottom-right { content: counter(page) \" of \" counter(pages); font: "
         "8pt sans-serif; } }\n";
}

std::string element(const std::string& tag, const std::string& text) {
  return "<" + tag + ">" + html_text(text) + "</" + tag + ">\n";
}

// How many columns the label of a sum takes: its own and the empty ones beside it.
std::size_t label_columns(const Table::Row& row) {
  std::size_t count = 1;
  while (count + 1 < row.cells.size() && row.cells[count].empty()) ++count;
  return count;
}

// A word too long for a narrow column is broken anywhere, and no other is.
const char* long_word_class(const std::string& text) {
  constexpr std::size_t longest_whole = 24;
  std::size_t length = 0, longest = 0;
  for (const char c : text) longest = std::max(longest, length = c == ' ' ? 0 : length + 1);
  return longest > longest_whole ? " class=\"long\"" : "";
}

// "over": the label of a sum goes on over empty cells, and a phone shows both on one line.
std::string class_of(Table::Role role, bool over) {
  const std::string more = over ? " over" : "";
  switch (role) {
    case Table::Role::plain: return "";
    case Table::Role::best: return " class=\"best\"";
    case Table::Role::sum: return " class=\"sum" + more + "\"";
    case Table::Role::total: return " class=\"total" + more + "\"";
  }
  return "";
}

std::string class_of(const Table& table, std::size_t column) {
  const bool number = table.columns[column].number;
  if (column > 0 && column == table.marked_column)
    return number ? " class=\"number marked\"" : " class=\"marked\"";
  return number ? " class=\"number\"" : "";
}

// On paper a tall table goes on overleaf; no other is broken.
std::string table_class(const Table& table) {
  constexpr std::size_t tall_from = 24;  // rows: about half a page
  std::vector<std::string> classes;
  if (table.compares_columns) classes.emplace_back("compare");
  if (table.compares_columns && table.columns.back().number) classes.emplace_back("figures");
  if (table.rows.size() >= tall_from) classes.emplace_back("tall");
  return classes.empty() ? "" : fmt::format(" class=\"{}\"", fmt::join(classes, " "));
}

class HtmlWriter {
 public:
  void write(const Document& document) {
    text_ += "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
    text_ += "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
    text_ += element("title", document.name);
    text_ += "<style>\n" + document_style_rules() + page_foot(document.name) + "</style>\n</head>\n<body>\n";
    header(document);
    text_ += "<main>\n";
    if (!document.mark.empty()) text_ += "<p class=\"mark\">" + html_text(document.mark) + "</p>\n";
    text_ += element("h1", document.title);
    text_ += document.answer ? "<div>\n" : "<div class=\"opening\">\n";
    blocks(document.opening);
    text_ += "</div>\n";
    for (const Section& section : document.sections) write(section);
    for (const Paragraph& closing : document.closing) (*this)(closing);
    text_ += "</main>\n</body>\n</html>\n";
  }
  void write_letter(const Document& document) {
    header(document);
    if (!document.mark.empty()) text_ += "<p class=\"mark\">" + html_text(document.mark) + "</p>\n";
    text_ += element("h2", document.title) + "<div class=\"opening\">\n";
    blocks(document.opening);
    text_ += "</div>\n";
    for (const Section& section : document.sections) write(section);
    for (const Paragraph& closing : document.closing) (*this)(closing);
  }
  void write(const Section& section) {
    if (section.empty()) return;
    text_ += "<section>\n";
    if (!section.heading.empty()) text_ += element("h2", heading_ = section.heading);
    blocks(section.blocks);
    for (const Section& part : section.parts) {
      text_ += "<section class=\"part\">\n";
      if (part.heading != heading_) text_ += element("h3", heading_ = part.heading);
      blocks(part.blocks);
      text_ += "</section>\n";
    }
    text_ += "</section>\n";
  }
  void blocks(const std::vector<DocumentBlock>& blocks) {
    for (const DocumentBlock& block : blocks) std::visit(*this, block);
  }
  [[nodiscard]] std::string text() && { return std::move(text_); }

  void operator()(const Paragraph& block) {
    text_ +=
        block.strong ? "<p class=\"strong\">" + html_text(block.text) + "</p>\n" : element("p", block.text);
  }
  void operator()(const Notice& block) { text_ += "<p class=\"notice\">" + html_text(block.text) + "</p>\n"; }
  void operator()(const List& block) {
    text_ += "<ul>\n";
    for (const std::string& item : block.items) text_ += element("li", item);
    text_ += "</ul>\n";
  }
  // For a wide and for a narrow window, of which the rules show one.
  void operator()(const Chart& block) {
    if (block.empty()) return;
    constexpr int wide = 760, narrow = 340;
    const std::string title =
        block.title == heading_ ? "" : "<strong>" + html_text(block.title) + "</strong> ";
    text_ += "<figure>\n<figcaption>" + title + html_text(block.description) + "</figcaption>\n" +
             chart_svg(block, wide) + chart_svg(block, narrow) +
             "<details>\n<summary>The numbers</summary>\n";
    (*this)(chart_numbers(block));
    text_ += "</details>\n</figure>\n";
  }
  void operator()(const Facts& block) {
    text_ += "<dl>\n";
    for (const Facts::Fact& fact : block.facts) {
      text_ += "<div>\n" + element("dt", fact.label);
      for (const std::string& line : fact.lines) {
        if (!line.empty()) text_ += element("dd", line);
      }
      text_ += "</div>\n";
    }
    text_ += "</dl>\n";
  }
  void operator()(const Table& block) {
    text_ += "<table" + table_class(block) + ">\n";
    if (!block.caption.empty()) text_ += element("caption", block.caption);
    text_ += "<thead>\n<tr>";
    const bool marks = block.has_marks();
    if (marks) text_ += "<td></td>";
    for (std::size_t i = 0; i < block.columns.size(); ++i) {
      const std::string heading = html_text(block.columns[i].heading);
      text_ +=
          heading.empty() ? "<td></td>" : "<th scope=\"col\"" + class_of(block, i) + ">" + heading + "</th>";
    }
    text_ += "</tr>\n</thead>\n<tbody>\n";
    for (const Table::Row& row : block.rows) table_row(block, row, marks);
    text_ += "</tbody>\n</table>\n";
  }
  void operator()(const Form& block) {
    text_ += "<div class=\"form\">\n" + element("h3", block.title);
    for (const std::string& sentence : block.sentences) text_ += element("p", sentence);
    if (!block.ticks.empty()) {
      text_ += "<ul class=\"ticks\">\n";
      for (const std::string& tick : block.ticks) text_ += element("li", tick);
      text_ += "</ul>\n";
    }
    text_ += "<ul class=\"blanks\">\n";
    for (const std::string& blank : block.blanks) text_ += element("li", blank);
    text_ += "</ul>\n</div>\n";
  }

 private:
  void header(const Document& document) {
    if (document.letterhead.empty()) return;
    text_ += "<header>\n";
    for (std::size_t i = 0; i < document.letterhead.size(); ++i)
      text_ += (i == 0 ? "<p class=\"shop\">" : "<p>") + html_text(document.letterhead[i]) + "</p>\n";
    text_ += "</header>\n";
  }

  void table_row(const Table& table, const Table::Row& row, bool marks) {
    const bool follows = row.role == Table::Role::sum || row.role == Table::Role::total;
    const std::size_t span = follows ? label_columns(row) : 1;
    text_ += "<tr" + class_of(row.role, span > 1) + ">";
    if (marks) text_ += "<td class=\"sign\">" + html_text(row.mark) + "</td>";
    text_ += "<th scope=\"row\"";
    if (table.columns.front().number && !follows)
      text_ += " class=\"number\" data-label=\"" + html_text(table.columns.front().heading) + "\"";
    else
      text_ += long_word_class(row.cells.front());
    if (span > 1) text_ += " colspan=\"" + std::to_string(span) + "\"";
    text_ += ">" + html_text(row.cells.front()) + "</th>";
    for (std::size_t i = span; i < row.cells.size(); ++i) {
      const std::string kind = class_of(table, i);
      text_ += "<td" + (kind.empty() ? long_word_class(row.cells[i]) : kind);
      // A phone shows the heading beside the cell; a sum that spans its label needs none.
      if (span == 1) text_ += " data-label=\"" + html_text(table.columns[i].heading) + "\"";
      text_ += ">" + html_text(row.cells[i]) + "</td>";
    }
    text_ += "</tr>\n";
  }

  std::string text_;
  std::string heading_;  ///< the last one: what bears it too is not named again
};

}  // namespace

std::string html_escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += c;
    }
  }
  return out;
}

std::string document_html(const Document& document) {
  HtmlWriter writer;
  writer.write(document);
  return std::move(writer).text();
}

std::string html_fragment(const std::vector<DocumentBlock>& blocks) {
  HtmlWriter writer;
  writer.blocks(blocks);
  return std::move(writer).text();
}

std::string html_fragment(const Section& section) {
  HtmlWriter writer;
  writer.write(section);
  return std::move(writer).text();
}

std::string html_fragment(const Document& document) {
  HtmlWriter writer;
  writer.write_letter(document);
  return std::move(writer).text();
}

}  // namespace mendworth
