#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include "base/csv_cell.hpp"
#include "input/csv_reader.hpp"
#include "input/csv_reading.hpp"
#include "input/drawer_columns.hpp"
#include "input/reading.hpp"
#include "mendworth/past_use.hpp"

namespace mendworth {

namespace {

enum UseColumn : std::size_t { use_date, use_pieces, use_part };
constexpr input::CsvColumn use_columns[] = {
    {"date", "this column is missing: each row says when pieces were used"},
    {"pieces", "this column is missing: each row says how many were used"},
    {"part"}};

}  // namespace

PastUse read_past_use(std::string_view csv, const std::string& source_name) {
  return input::read_as(input::FileKind::past_use, csv, source_name, [&] {
    const std::string_view text = input::checked_csv(csv, source_name);
    const auto known = [](const input::CsvRow& header) { return known_columns(header, use_columns); };
    input::CsvReader table(source_name, input::separator_of_header(text, ",;\t", known), use_columns);
    PastUse use;
    use.source_name = source_name;
    table.read(text, [&](const input::CsvRow& row) {
      UseEntry entry;
      entry.day = table.day(row, use_date).value_or(Date{});
      entry.pieces = table.whole_number(row, use_pieces, most_used_pieces);
      entry.part = as_named(table.field(row, use_part));
      if (table.at(use_part) && entry.part.empty())
        table.add(row, use_part, "the row does not say which part was used");
      use.entries.push_back(std::move(entry));
    });
    table.finish("date,pieces", true);
    return use;
  });
}

}  // namespace mendworth
