#include "input/csv_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <system_error>
#include <utility>

#include "input/csv_reading.hpp"
#include "input/day_text.hpp"
#include "input/drawer_columns.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

constexpr std::size_t longest_misspelt = 20;

std::size_t column_in(std::span<const CsvColumn> columns, std::string_view name) {
  const std::string wanted = lower_case(trimmed(name));
  const auto found =
      std::ranges::find_if(columns, [&](const CsvColumn& column) { return wanted == column.name; });
  return static_cast<std::size_t>(found - columns.begin());
}

}  // namespace

std::size_t known_columns(const CsvRow& header, std::span<const CsvColumn> columns) {
  return static_cast<std::size_t>(std::ranges::count_if(
      header.fields, [&](std::string_view name) { return column_in(columns, name) < columns.size(); }));
}

CsvReader::CsvReader(const std::string& source_name, char separator, std::span<const CsvColumn> columns)
    : separator_(separator),
      columns_(columns),
      at_(columns.size()),
      problems_(source_name, most_reported_of_csv) {}

void CsvReader::read(std::string_view text, const std::function<void(const CsvRow&)>& row,
                     const std::function<bool(const CsvRow&)>& header) {
  read_csv(text, separator_,
           {[&](const CsvRow& read) {
              if (header_done_) {
                if (is_row(read)) row(read);
                return true;
              }
              header_done_ = true;
              count_ = read.field_count;
              headings_.assign(read.fields.begin(), read.fields.end());
              if (count_ > most_csv_fields) {
                add(read.line, "", fmt::format("{} columns; at most {} are read", count_, most_csv_fields));
                return false;
              }
              return header ? header(read) : read_header(read);
            },
            [&](int line, const std::string& message) {
              add(line, "", message);
              return std::exchange(header_done_, true);
            }});
}

void CsvReader::finish(const char* example, bool rows_wanted) {
  if (!header_done_) {
    add(0, "", "the file is empty", fmt::format("the first row names the columns: {}", example));
  } else if (rows_wanted && rows_ == 0 && problems_.count() == 0) {
    add(0, "", "there is no row below the header");
  }
  problems_.throw_if_any();
}

std::string_view CsvReader::field(const CsvRow& row, std::size_t column) const {
  return at_[column] ? trimmed(row.fields[*at_[column]]) : std::string_view();
}

void CsvReader::add(const CsvRow& row, std::size_t column, std::string message, std::string remedy) {
  problems_.add(place_of_field(row, separator_, *at_[column]), columns_[column].name, std::move(message),
                std::move(remedy));
}

void CsvReader::add(int line, std::string key, std::string message, std::string remedy) {
  problems_.add({line, 0, false}, std::move(key), std::move(message), std::move(remedy));
}

bool CsvReader::read_header(const CsvRow& header) {
  const std::size_t before = problems_.count();
  std::vector<std::size_t> others;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < headings_.size(); ++i) {
    const std::size_t column = column_in(columns_, headings_[i]);
    if (column == columns_.size()) {
      others.push_back(i);
      names.push_back(headings_[i]);
    } else if (at_[column]) {
      problems_.add(place_of_field(header, separator_, i), columns_[column].name,
                    "this column stands there twice", "keep one, or give the other one another name");
    } else {
      at_[column] = i;
    }
  }
  for (std::size_t column = 0; column < columns_.size(); ++column) {
    if (at_[column]) continue;
    const char* name = columns_[column].name;
    if (columns_[column].missing != nullptr) {
      const auto meant = nearest(name, names);
      add(header.line, name, columns_[column].missing,
          meant ? fmt::format("is '{}' meant to be it?", printable(*meant)) : "");
      continue;
    }
    // Left alone because of one wrong letter, it would lose its meaning without a word.
    for (const std::size_t place : others) {
      const std::string& other = headings_[place];
      if (other.size() > longest_misspelt || edit_distance(lower_case(other), name) > 1) continue;
      problems_.add(place_of_field(header, separator_, place), printable(other),
                    fmt::format("this column is nearly '{}'", name),
                    fmt::format("name it '{}', or else something less like it", name));
    }
  }
  return problems_.count() == before;
}

bool CsvReader::is_row(const CsvRow& row) {
  if (row.field_count != count_) {
    add(row.line, "", wrong_field_count(row.field_count, count_),
        row.field_count > count_ ? "a field with the separator in it is quoted" : "");
    return false;
  }
  // Spreadsheets leave blank rows.
  const bool blank =
      std::ranges::all_of(row.fields, [](std::string_view field) { return trimmed(field).empty(); });
  if (!blank) ++rows_;
  return !blank;
}

int CsvReader::whole_number(const CsvRow& row, std::size_t column, int most) {
  const std::string_view text = field(row, column);
  int value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = end == text.data() + text.size() && error == std::errc();
  if (whole && value >= 0 && value <= most) return value;
  const std::string allowed = fmt::format("allowed is a whole number from 0 to {}", most);
  add(row, column,
      text.empty() ? fmt::format("the number is missing; {}", allowed)
                   : fmt::format("found '{}', {}", printable(text), allowed));
  return 0;
}

std::optional<Date> CsvReader::day(const CsvRow& row, std::size_t column, const char* remedy) {
  const std::string_view text = field(row, column);
  auto day = day_of(text);
  if (!day) {
    add(row, column, fmt::format("found '{}', allowed is a day that exists, as YYYY-MM-DD", printable(text)),
        remedy);
  }
  return day;
}

}  // namespace mendworth::input
