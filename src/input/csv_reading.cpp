#include "input/csv_reading.hpp"

#include <fmt/format.h>

#include "input/utf8.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::input {

namespace {

bool starts_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

}  // namespace

std::string_view checked_csv(std::string_view csv, const std::string& source_name) {
  if (const auto bad = find_bad_byte(csv)) {
    throw InputError({{source_name, bad->line, bad->column, "",
                       fmt::format("this is no UTF-8 text file: found the byte 0x{:02X}", bad->byte),
                       "save the table as CSV in UTF-8"}});
  }
  if (csv.starts_with(byte_order_mark)) csv.remove_prefix(byte_order_mark.size());
  return csv;
}

char separator_of_header(std::string_view csv, std::string_view separators,
                         const std::function<std::size_t(const CsvRow&)>& known_columns) {
  char best = separators.front();
  std::size_t best_known = 0;
  std::size_t best_count = 0;
  for (const char separator : separators) {
    std::size_t known = 0;
    std::size_t count = 0;
    const CsvHandler handler{[&](const CsvRow& header) {
                               known = known_columns(header);
                               count = header.field_count;
                               return false;
                             },
                             [](int, const std::string&) { return false; }};
    read_csv(csv, separator, handler);
    if (known > best_known || (known == best_known && count > best_count)) {
      best = separator;
      best_known = known;
      best_count = count;
    }
  }
  return best;
}

// The row has been read without a complaint, so quotes stand only around fields and, doubled, within them: between
// two separators that count, their number is even.
Place place_of_field(const CsvRow& row, char separator, std::size_t field) {
  Place place{row.line, 1, false};
  bool quoted = false;
  bool at_start = true;  // of a field, with blanks before it
  char last = '\0';
  for (const char c : row.text) {
    if (field == 0 && at_start && c != ' ' && (c != '\t' || separator == '\t')) return place;
    if (c == '"') quoted = !quoted;
    const bool separates = c == separator && !quoted;
    if (separates) --field;
    at_start = separates || (at_start && (c == ' ' || c == '\t'));
    if (c == '\n' || c == '\r') {
      if (c == '\r' || last != '\r') ++place.line;
      place.column = 1;
    } else if (starts_code_point(c)) {
      ++place.column;
    }
    last = c;
  }
  return place;
}

std::string lower_case(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

std::string wrong_field_count(std::size_t found, std::size_t wanted) {
  return fmt::format("{} where the header has {}",
                     found == 1 ? std::string("1 field") : fmt::format("{} fields", found), wanted);
}

}  // namespace mendworth::input
