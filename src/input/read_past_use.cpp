#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

#include "base/csv_cell.hpp"
#include "input/csv_reading.hpp"
#include "input/csv_table.hpp"
#include "input/day_text.hpp"
#include "input/drawer_columns.hpp"
#include "input/problems.hpp"
#include "input/reading.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/past_use.hpp"

namespace mendworth {

namespace {

using input::CsvRow;
using input::printable;

enum UseColumn : std::size_t { use_date, use_pieces, use_part, use_columns };
constexpr std::array<const char*, use_columns> use_names = {"date", "pieces", "part"};

std::size_t use_column(std::string_view name) {
  const std::string wanted = input::lower_case(name);
  return static_cast<std::size_t>(std::find(use_names.begin(), use_names.end(), wanted) - use_names.begin());
}

/// Turns the rows of one file into a record, row by row.
class PastUseReader {
 public:
  PastUseReader(const std::string& source_name, char separator)
      : separator_(separator), problems_(source_name, input::most_reported_of_csv) {
    use_.source_name = source_name;
  }

  /// False: without a good header the rows mean nothing.
  bool take(const CsvRow& row) {
    if (header_done_) {
      read_row(row);
      return true;
    }
    header_done_ = true;
    read_header(row);
    return problems_.count() == 0;
  }

  bool refuse(int line, const std::string& message) {
    problems_.add({line, 0, false}, "", message);
    return std::exchange(header_done_, true);
  }

  PastUse finished() {
    if (!header_done_) {
      problems_.add({}, "", "the file is empty", "the first row names the columns: date,pieces");
    } else if (use_.entries.empty() && problems_.count() == 0) {
      problems_.add({}, "", "there is no row below the header");
    }
    problems_.throw_if_any();
    return std::move(use_);
  }

 private:
  void read_header(const CsvRow& header) {
    std::vector<std::string> others;
    columns_ = header.field_count;
    for (std::size_t i = 0; i < header.fields.size(); ++i) {
      const std::size_t column = use_column(header.fields[i]);
      if (column == use_columns) {
        others.emplace_back(header.fields[i]);
      } else if (place_[column]) {
        add(header, i, use_names[column], "this column stands there twice", "keep one");
      } else {
        place_[column] = i;
      }
    }
    for (const UseColumn wanted : {use_date, use_pieces}) {
      if (place_[wanted]) continue;
      const auto meant = input::nearest(use_names[wanted], others);
      problems_.add({header.line, 0, false}, use_names[wanted],
                    wanted == use_date ? "this column is missing: each row says when pieces were used"
                                       : "this column is missing: each row says how many were used",
                    meant ? fmt::format("is '{}' meant to be it?", printable(*meant)) : "");
    }
    if (place_[use_part]) return;
    // Left alone because of one wrong letter, it would lose its meaning without a word.
    for (const std::string& other : others) {
      if (other.size() < 20 && input::edit_distance(input::lower_case(other), "part") == 1) {
        problems_.add({header.line, 0, false}, printable(other), "this column is nearly 'part'",
                      "name it 'part', or else something less like it");
      }
    }
  }

  void read_row(const CsvRow& row) {
    if (row.field_count != columns_) {
      problems_.add({row.line, 0, false}, "", input::wrong_field_count(row.field_count, columns_),
                    row.field_count > columns_ ? "a field with the separator in it is quoted" : "");
      return;
    }
    const bool blank = std::all_of(row.fields.begin(), row.fields.end(),
                                   [](std::string_view field) { return input::trimmed(field).empty(); });
    if (blank) return;  // spreadsheets leave such rows
    UseEntry entry;
    const std::size_t date = *place_[use_date];
    if (const auto day = input::day_of(input::trimmed(row.fields[date]))) {
      entry.day = *day;
    } else {
      add(row, date, "date",
          fmt::format("found '{}', allowed is a day that exists, as YYYY-MM-DD",
                      printable(row.fields[date])));
    }
    read_pieces(row, entry.pieces);
    if (place_[use_part]) {
      entry.part = as_named(input::trimmed(row.fields[*place_[use_part]]));
      if (entry.part.empty()) add(row, *place_[use_part], "part", "the row does not say which part was used");
    }
    use_.entries.push_back(std::move(entry));
  }

  void read_pieces(const CsvRow& row, int& pieces) {
    const std::size_t i = *place_[use_pieces];
    const std::string_view field = input::trimmed(row.fields[i]);
    const auto [end, error] = std::from_chars(field.data(), field.data() + field.size(), pieces);
    const bool whole = end == field.data() + field.size() && error == std::errc();
    if (whole && pieces >= 0 && pieces <= most_used_pieces) return;
    const std::string allowed = fmt::format("allowed is a whole number from 0 to {}", most_used_pieces);
    add(row, i, "pieces",
        field.empty() ? fmt::format("the number is missing; {}", allowed)
                      : fmt::format("found '{}', {}", printable(field), allowed));
  }

  void add(const CsvRow& row, std::size_t field, std::string key, std::string message,
           std::string remedy = "") {
    problems_.add(input::place_of_field(row, separator_, field), std::move(key), std::move(message),
                  std::move(remedy));
  }

  char separator_;
  input::Problems problems_;
  PastUse use_;
  std::array<std::optional<std::size_t>, use_columns> place_{};
  std::size_t columns_ = 0;
  bool header_done_ = false;
};

}  // namespace

PastUse read_past_use(std::string_view csv, const std::string& source_name) {
  return input::read_as(input::FileKind::past_use, csv, source_name, [&] {
    const std::string_view text = input::checked_csv(csv, source_name);
    const char separator = input::separator_of_header(text, ",;\t", [](const CsvRow& header) {
      return static_cast<std::size_t>(
          std::count_if(header.fields.begin(), header.fields.end(),
                        [](std::string_view name) { return use_column(name) < use_columns; }));
    });
    PastUseReader reader(source_name, separator);
    input::read_csv(text, separator,
                    {[&](const CsvRow& row) { return reader.take(row); },
                     [&](int line, const std::string& message) { return reader.refuse(line, message); }});
    return reader.finished();
  });
}

}  // namespace mendworth
