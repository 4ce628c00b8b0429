#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "base/csv_cell.hpp"
#include "domain/limits.hpp"
#include "input/csv_reader.hpp"
#include "input/csv_reading.hpp"
#include "input/reading.hpp"
#include "input/utf8.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth {

namespace {

using input::CsvRow;
using input::printable;

constexpr std::size_t most_rows = 10'000;

enum Column : std::size_t { candidate, from, each, supplier, currency, least, multiple, lead_days };
constexpr input::CsvColumn columns[] = {
    {"candidate", "this column is missing: each row names what is sold as a case does"},
    {"from", "this column is missing: the quantity from which the price holds"},
    {"each", "this column is missing: what one piece costs"},
    {"supplier"},
    {"currency"},
    {"least"},
    {"multiple"},
    {"lead_days"}};

/// Digits that a single comma parts as it would a thousand: "1,250", not "0,250" or "12,5".
bool looks_like_thousands(std::string_view text) {
  const std::size_t comma = text.find(',');
  return comma >= 1 && comma <= 3 && text.size() - comma == 4 && text.front() != '0';
}

/// What the numbers of a quotation say about the mark of their decimals.
struct DecimalMark {
  bool comma = false;
  int line = 0;  ///< of a number that may be read in two ways; 0: none
  std::string unclear;
};

/// A comma in a number marks decimals, unless points do so elsewhere in the file, or it may part thousands wherever
/// it stands.
DecimalMark decimal_mark_of(std::string_view csv, char separator) {
  DecimalMark mark;
  std::vector<std::size_t> numbers;
  bool header_done = false, points = false, decimals = false;
  const auto look_at = [&](const CsvRow& row) {
    if (!header_done) {
      header_done = true;
      for (std::size_t i = 0; i < row.fields.size(); ++i) {
        const std::string name = input::lower_case(row.fields[i]);
        if (name == columns[each].name || name == columns[lead_days].name) numbers.push_back(i);
      }
      return true;
    }
    for (const std::size_t i : numbers) {
      if (i >= row.fields.size()) continue;
      const std::string_view text = row.fields[i];
      points = points || text.find('.') != std::string_view::npos;
      if (text.find(',') == std::string_view::npos) continue;
      decimals = decimals || !looks_like_thousands(text);
      if (mark.line != 0) continue;
      mark.line = row.line;
      mark.unclear = std::string(text);
    }
    return true;
  };
  input::read_csv(csv, separator, {look_at, [](int, const std::string&) { return true; }});
  mark.comma = mark.line != 0 && !points;
  if (mark.comma == decimals) mark.line = 0;
  return mark;
}

/// Turns the rows of one file into ladders, row by row.
class QuotationReader {
 public:
  QuotationReader(const std::string& source_name, char separator, bool decimal_comma)
      : source_name_(source_name), decimal_comma_(decimal_comma), table_(source_name, separator, columns) {}

  std::vector<QuotedLadder> read(std::string_view text) {
    table_.read(text, [this](const CsvRow& row) {
      if (table_.rows() <= most_rows) read_row(row);
    });
    if (table_.rows() > most_rows)
      table_.add(0, "", fmt::format("more than {} rows: this is no quotation", most_rows));
    table_.finish("candidate, from, each", true);
    return std::move(ladders_);
  }

 private:
  [[nodiscard]] std::string_view field(const CsvRow& row, std::size_t column) const {
    return table_.field(row, column);
  }

  /// A number in a field that is not empty, within the limits; else reported and absent.
  std::optional<double> number(const CsvRow& row, std::size_t column, const Limits& limits) {
    const std::string_view written = field(row, column);
    std::string text(written);
    const bool wrong_mark = text.find(decimal_comma_ ? '.' : ',') != std::string::npos;
    if (decimal_comma_) std::replace(text.begin(), text.end(), ',', '.');
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (wrong_mark || error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) {
      std::string remedy;
      if (wrong_mark) {
        remedy = decimal_comma_
                     ? "with decimal commas a point has no place in a number"
                     : "no separators of thousands; --decimal-comma says that commas mark decimals";
      }
      table_.add(
          row, column,
          written.empty() ? "there is no number" : fmt::format("'{}' is no number", printable(written)),
          remedy);
      return std::nullopt;
    }
    if (!limits.allows(value)) {
      table_.add(row, column,
                 fmt::format("{} is out of range: allowed is {}", printable(written),
                             limits.allowed_instead_of(value)));
      return std::nullopt;
    }
    return value;
  }

  std::optional<int> whole(const CsvRow& row, std::size_t column) {
    constexpr Limits pieces{1, most_pieces};
    const auto value = number(row, column, pieces);
    if (!value) return std::nullopt;
    // "1,000" is no 1, whatever the comma marks.
    const bool marked = field(row, column).find_first_of(".,") != std::string_view::npos;
    if (marked || *value != std::floor(*value)) {
      table_.add(row, column, fmt::format("{} is no whole number", printable(field(row, column))));
      return std::nullopt;
    }
    return static_cast<int>(*value);
  }

  void read_row(const CsvRow& row) {
    const std::size_t before = table_.problems().count();
    QuotedLadder ladder;
    ladder.quotation = source_name_;
    ladder.candidate = as_named(field(row, candidate));
    ladder.supplier = as_named(field(row, supplier));
    ladder.currency = std::string(field(row, currency));
    ladder.line = row.line;
    if (ladder.candidate.empty()) table_.add(row, candidate, "the row does not say what is sold");
    const auto from_pieces = whole(row, from);
    const auto price = number(row, each, limits::money);
    if (!field(row, least).empty()) ladder.least = whole(row, least);
    if (!field(row, multiple).empty()) ladder.multiple = whole(row, multiple);
    if (!field(row, lead_days).empty()) ladder.lead_days = number(row, lead_days, limits::days);
    if (table_.problems().count() > before) return;
    ladder.prices.push_back({*from_pieces, *price});
    keep(row, std::move(ladder));
  }

  /// Adds a step to the ladder of its candidate and supplier, or begins one.
  void keep(const CsvRow& read, QuotedLadder&& row) {
    for (QuotedLadder& known : ladders_) {
      if (known.candidate != row.candidate || known.supplier != row.supplier) continue;
      const auto step = row.prices.front();
      if (step.from <= known.prices.back().from) {
        table_.add(read, from,
                   fmt::format("price breaks are out of order: {} comes after {}", step.from,
                               known.prices.back().from),
                   "write them by rising quantity, each once");
      }
      const auto agrees = [&](std::size_t column, const auto& first, const auto& next) {
        if (next == std::decay_t<decltype(next)>{} || first == next) return;
        table_.add(read, column, "differs from what the ladder's first row says",
                   fmt::format("it stands on line {}; state it there alone", known.line));
      };
      agrees(currency, known.currency, row.currency);
      agrees(least, known.least, row.least);
      agrees(multiple, known.multiple, row.multiple);
      agrees(lead_days, known.lead_days, row.lead_days);
      known.prices.push_back(step);
      return;
    }
    ladders_.push_back(std::move(row));
  }

  std::string source_name_;
  bool decimal_comma_;
  input::CsvReader table_;
  std::vector<QuotedLadder> ladders_;
};

}  // namespace

std::vector<QuotedLadder> read_quotation(std::string_view csv, const std::string& source_name,
                                         const QuotationOptions& options) {
  return input::read_as(input::FileKind::quotation, csv, source_name, [&] {
    const std::string_view text = input::checked_csv(csv, source_name);
    const char separator =
        input::separator_of_header(text, options.decimal_comma.value_or(false) ? ";\t" : ",;\t",
                                   [](const CsvRow& header) { return known_columns(header, columns); });
    bool decimal_comma = options.decimal_comma.value_or(false);
    if (!options.decimal_comma) {
      const DecimalMark mark = decimal_mark_of(text, separator);
      if (mark.line != 0) {
        throw InputError(
            {{source_name, mark.line, 0, "",
              fmt::format("'{}' may be read in two ways: its comma marks decimals or parts thousands",
                          printable(mark.unclear)),
              "write numbers without separators of thousands; --decimal-comma says that commas mark "
              "decimals"}});
      }
      decimal_comma = mark.comma;
    }
    return QuotationReader(source_name, separator, decimal_comma).read(text);
  });
}

}  // namespace mendworth
