#include "input/csv_table.hpp"

#include <csv.h>
#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <new>
#include <utility>

namespace mendworth::input {

namespace {

constexpr std::size_t buffer_step = 65'536;  ///< the library's own 128 bytes make a huge field slow

bool is_blank(std::string_view text) { return text.find_first_not_of(" \t\r\n") == std::string_view::npos; }

bool ends_line(char c) { return c == '\n' || c == '\r'; }

/// Collects what the library says. Its callbacks come through C code, so nothing may be thrown in them.
class Collector {
 public:
  static void on_field(void* text, std::size_t length, void* self) {
    static_cast<Collector*>(self)->add_field({static_cast<const char*>(text), length});
  }
  static void on_row(int /*last_byte*/, void* self) { static_cast<Collector*>(self)->complete_ = true; }

  void clear() {
    text_.clear();
    ends_.clear();
    field_count_ = 0;
    complete_ = false;
  }
  void rethrow() const {
    if (trouble_) std::rethrow_exception(trouble_);
  }
  [[nodiscard]] bool complete() const noexcept { return complete_; }
  void give(CsvRow& row) const {
    row.fields.clear();
    std::size_t start = 0;
    for (const std::size_t end : ends_) {
      row.fields.push_back(std::string_view(text_).substr(start, end - start));
      start = end;
    }
    row.field_count = field_count_;
  }

 private:
  void add_field(std::string_view field) noexcept {
    if (field_count_++ >= most_csv_fields) return;
    try {
      text_ += field;
      ends_.push_back(text_.size());
    } catch (...) {
      trouble_ = std::current_exception();
    }
  }

  std::string text_;
  std::vector<std::size_t> ends_;
  std::size_t field_count_ = 0;
  bool complete_ = false;
  std::exception_ptr trouble_;
};

/// The library's parser, fed with whole lines. It knows no line numbers: whoever feeds it counts.
class Parser {
 public:
  explicit Parser(char separator) : separator_(separator) { start(); }
  ~Parser() { csv_free(&parser_); }
  Parser(const Parser&) = delete;
  Parser& operator=(const Parser&) = delete;

  /// False: the line breaks the quoting rules, and the parser is as new.
  bool feed(std::string_view line) {
    const std::size_t used =
        csv_parse(&parser_, line.data(), line.size(), &Collector::on_field, &Collector::on_row, &collected_);
    return checked(used == line.size());
  }
  /// The last row, if no line end closed it. False: a quote is open.
  bool finish() {
    return checked(csv_fini(&parser_, &Collector::on_field, &Collector::on_row, &collected_) == 0);
  }
  [[nodiscard]] bool has_row() const noexcept { return collected_.complete(); }
  void take(CsvRow& row) const { collected_.give(row); }
  void clear() { collected_.clear(); }

 private:
  void start() {
    if (csv_init(&parser_, CSV_STRICT | CSV_STRICT_FINI) != 0) throw std::bad_alloc();
    csv_set_delim(&parser_, static_cast<unsigned char>(separator_));
    csv_set_blk_size(&parser_, buffer_step);
  }
  bool checked(bool good) {
    collected_.rethrow();
    if (good) return true;
    if (csv_error(&parser_) != CSV_EPARSE) throw std::bad_alloc();
    csv_free(&parser_);
    start();
    collected_.clear();
    return false;
  }

  char separator_;
  csv_parser parser_{};
  Collector collected_;
};

/// The text's next line with its line end; of CR LF the CR only, the LF being a blank line that does not count.
std::string_view next_line(std::string_view text) {
  const auto* end = std::ranges::find_if(text, ends_line);
  return text.substr(0, static_cast<std::size_t>(end - text.begin()) + (end == text.end() ? 0U : 1U));
}

std::string misplaced_quote(int start, int found) {
  return fmt::format(
      "a quote stands where none may{}: a field with quotes is quoted as a whole, and quotes within it are "
      "doubled",
      start == found ? std::string() : fmt::format(", in line {}", found));
}

}  // namespace

void read_csv(std::string_view text, char separator, const CsvHandler& handler) {
  Parser parser(separator);
  CsvRow row;
  int line = 1;
  bool inside_row = false;
  char last_end = '\n';
  while (!text.empty()) {
    const std::string_view piece = next_line(text);
    if (!inside_row) row.text = text;
    text.remove_prefix(piece.size());
    const bool second_of_pair = last_end == '\r' && piece == "\n";
    if (second_of_pair) --line;
    if (!inside_row) row.line = line;

    if (!parser.feed(piece)) {
      if (!handler.bad_row(row.line, misplaced_quote(row.line, line))) return;
      inside_row = false;
    } else if (parser.has_row()) {
      parser.take(row);
      if (!handler.row(row)) return;
      parser.clear();
      inside_row = false;
    } else if (!inside_row && !is_blank(piece)) {
      inside_row = true;
    }
    last_end = piece.back();
    ++line;
  }
  if (!parser.finish()) {
    handler.bad_row(row.line, "the quote that is opened in this row is never closed");
  } else if (parser.has_row()) {
    parser.take(row);
    handler.row(row);
  }
}

}  // namespace mendworth::input
