#include <string>
#include <vector>

#include "base/csv_cell.hpp"
#include "render/document.hpp"
#include "render/layout.hpp"

// Tables as RFC 4180 has them: fields between quotes where they need them, lines that end in CR LF.
namespace mendworth {

namespace {

std::string field(const std::string& text) {
  std::string plain = defused(with_plain_spaces(one_line(text)));
  if (plain.find_first_of(",\"") == std::string::npos) return plain;
  std::string out = "\"";
  for (const char c : plain) out += c == '"' ? "\"\"" : std::string(1, c);
  return out + '"';
}

class CsvWriter {
 public:
  explicit CsvWriter(bool bare) : bare_(bare) {}

  void write(const std::vector<DocumentBlock>& blocks) {
    for (const DocumentBlock& block : blocks) {
      if (const auto* table = std::get_if<Table>(&block)) write(*table);
      if (const auto* chart = std::get_if<Chart>(&block)) write(chart_numbers(*chart));
    }
  }
  void write(const Section& section) {
    write(section.blocks);
    for (const Section& part : section.parts) write(part.blocks);
  }
  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  void write(const Table& table) {
    const bool marks = table.has_marks();
    std::vector<std::string> fields;
    if (marks) fields.emplace_back("mark");
    for (const Table::Column& column : table.columns) fields.push_back(column.heading);
    record(table, fields);
    for (const Table::Row& row : table.rows) {
      fields.clear();
      if (marks) fields.push_back(row.mark);
      fields.insert(fields.end(), row.cells.begin(), row.cells.end());
      record(table, fields);
    }
  }
  void record(const Table& table, const std::vector<std::string>& fields) {
    std::string line = bare_ ? "" : field(table.name);
    for (const std::string& text : fields)
      line += (&text == &fields.front() && bare_ ? "" : ",") + field(text);
    text_ += line + "\r\n";
  }

  bool bare_;
  std::string text_;
};

}  // namespace

std::string document_csv(const Document& document, bool bare) {
  CsvWriter writer(bare);
  writer.write(document.opening);
  for (const Section& section : document.sections) writer.write(section);
  return std::move(writer).text();
}

}  // namespace mendworth
