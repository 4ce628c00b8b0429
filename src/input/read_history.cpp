#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <unordered_set>
#include <utility>

#include "base/csv_cell.hpp"
#include "domain/limits.hpp"
#include "input/csv_reader.hpp"
#include "input/csv_reading.hpp"
#include "input/history_columns.hpp"
#include "input/reading.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/history.hpp"

namespace mendworth {

namespace {

using input::CsvRow;
using input::HistoryColumns;
using input::printable;

constexpr Limits ages{.low = 0, .high = limits::life.high, .least = 1e-6};
constexpr Limits pieces_of_a_row{0, 1e9};

enum class State { failed, working };

bool equal_ignoring_case(std::string_view text, std::string_view lower) {
  return text.size() == lower.size() &&
         std::equal(text.begin(), text.end(), lower.begin(), [](char a, char b) {
           return (a >= 'A' && a <= 'Z' ? static_cast<char>(a - 'A' + 'a') : a) == b;
         });
}

/// Turns the rows of one file into a history, row by row.
class HistoryReader {
 public:
  HistoryReader(const std::string& source_name, char separator, const HistoryOptions& options)
      : options_(options), table_(source_name, separator, {}) {
    history_.source_name = source_name;
    history_.part = options.part;
  }

  History read(std::string_view text) {
    table_.read(
        text, [this](const CsvRow& row) { read_row(row); },
        [this](const CsvRow& header) {
          const auto columns = input::read_history_header(header, options_, table_.problems());
          if (!columns) return false;
          columns_ = *columns;
          history_.unit = columns_.unit;
          return true;
        });
    if (table_.rows() > 0 && table_.problems().count() == 0 && history_.groups.empty()) say_part_unknown();
    table_.finish("age_cycles, age_hours or age_years, and state", true);
    return std::move(history_);
  }

 private:
  void add(const std::string& key, std::string message, std::string remedy = "") {
    table_.add(line_, key, std::move(message), std::move(remedy));
  }

  void say_part_unknown() {
    line_ = 0;
    std::vector<std::string> known(all_parts_.begin(), all_parts_.end());
    std::ranges::sort(known);
    add("part", fmt::format("no row is about part '{}'", printable(options_.part)),
        printable(input::suggestion(options_.part, known), 200));
  }

  void read_row(const CsvRow& row) {
    line_ = row.line;
    const std::size_t before = table_.problems().count();
    const LifeRecord record = record_of(row);
    const bool wanted = takes_part(row);
    const std::string_view group =
        columns_.group ? as_named(row.fields[*columns_.group]) : std::string_view();
    if (wanted && columns_.group && group.empty()) {
      add(printable(options_.group_column), "the row belongs to no group",
          "state one, for instance 'unknown'");
    }
    if (wanted && table_.problems().count() == before) keep(record, group);
  }

  bool takes_part(const CsvRow& row) {
    if (!columns_.part) return true;
    const std::string_view part = as_named(row.fields[*columns_.part]);
    if (part.empty() && !options_.part.empty()) {
      add("part", "the row does not say which part it is about");
      return false;
    }
    const bool wanted = options_.part.empty() || part == options_.part;
    if (is_new_part(part) && wanted) history_.parts.emplace_back(part);
    return wanted;
  }

  bool is_new_part(std::string_view part) {
    if (part == last_part_) return false;
    last_part_ = part;
    return all_parts_.insert(last_part_).second;
  }

  void keep(const LifeRecord& record, std::string_view group) {
    const auto known = group_index_.find(group);
    std::size_t index = 0;
    if (known != group_index_.end()) {
      index = known->second;
    } else if (history_.groups.size() == most_history_groups) {
      add(printable(options_.group_column),
          fmt::format("more than {} different values: this column is none to group by", most_history_groups));
      return;
    } else {
      index = history_.groups.size();
      group_index_.emplace(std::string(group), index);
      history_.groups.push_back({std::string(group), {}});
    }
    history_.groups[index].records.push_back(record);
  }

  LifeRecord record_of(const CsvRow& row) {
    const std::size_t before = table_.problems().count();
    const auto age = number_in(row, columns_.age, columns_.age_name, ages);
    if (!age && table_.problems().count() == before) add(columns_.age_name, "the age is missing");
    const auto state = state_in(row);
    const auto worked_at = optional_number(row, columns_.worked_at, "worked_at");
    const auto first_seen = optional_number(row, columns_.first_seen, "first_seen");
    const auto pieces = columns_.pieces ? pieces_in(row) : std::optional<double>(1.0);

    if (!age || !state || table_.problems().count() > before) return {};
    LifeRecord record;
    record.first_seen = first_seen.value_or(0);
    record.weight = pieces.value_or(1);
    if (*state == State::working) {
      check_working(*age, worked_at, record.first_seen);
      record.worked_at = *age;
    } else {
      check_failed(*age, worked_at, record.first_seen);
      record.worked_at = worked_at.value_or(*age);
      record.failed_by = *age;
    }
    return record;
  }

  void check_working(double age, const std::optional<double>& worked_at, double first_seen) {
    if (worked_at) {
      add("worked_at", "only a failed piece has a last look at which it worked",
          fmt::format("leave it empty: a working piece worked at its age, {}", age));
    }
    if (first_seen > age) {
      add("first_seen", fmt::format("{} is after the age, {}", first_seen, age));
    }
  }

  void check_failed(double age, const std::optional<double>& worked_at, double first_seen) {
    const bool interval = worked_at && *worked_at < age;
    if (age == 0) {
      add(columns_.age_name, "a piece cannot wear out at age 0",
          "dead on arrival is no life: leave the row out, and count it as dead_on_arrival in a case");
    } else if (worked_at && *worked_at > age) {
      add("worked_at",
          fmt::format("it still worked at {} and had failed at {} before that", *worked_at, age));
    } else if (first_seen >= age) {
      add("first_seen", fmt::format("{} is not before the failure, {}", first_seen, age),
          "a piece comes under watch while it works");
    } else if (interval && first_seen > *worked_at) {
      add("worked_at",
          fmt::format("the last look, {}, was before the piece came under watch, {}", *worked_at, first_seen),
          "it worked when it came under watch: the last look is that or later");
    }
  }

  std::optional<State> state_in(const CsvRow& row) {
    const std::string_view word = row.fields[columns_.state];
    if (equal_ignoring_case(word, "failed")) return State::failed;
    if (equal_ignoring_case(word, "working")) return State::working;
    static const std::vector<std::string> known = {"failed", "working"};
    add("state", word.empty() ? "the state is missing" : fmt::format("unknown state '{}'", printable(word)),
        input::suggestion(word, known));
    return std::nullopt;
  }

  std::optional<double> pieces_in(const CsvRow& row) {
    const auto pieces = number_in(row, *columns_.pieces, "count", pieces_of_a_row);
    if (pieces && *pieces <= 0) {
      add("count", fmt::format("{} pieces: a row stands for more than none", *pieces));
    }
    return pieces;
  }

  std::optional<double> optional_number(const CsvRow& row, const std::optional<std::size_t>& column,
                                        const char* name) {
    if (!column) return std::nullopt;
    return number_in(row, *column, name, ages);
  }

  /// Absent for an empty field, and for one that is no number within the limits: that is a problem then.
  std::optional<double> number_in(const CsvRow& row, std::size_t column, const std::string& name,
                                  const Limits& allowed) {
    const std::string_view field = row.fields[column];
    if (field.empty()) return std::nullopt;
    double value = 0;
    if (!converted(field, value)) {
      add(name, fmt::format("'{}' is not a number", printable(field)), number_remedy(field));
      return std::nullopt;
    }
    if (!allowed.allows(value)) {
      add(name, fmt::format("found {}, allowed is {}", printable(field), allowed.allowed_instead_of(value)));
      return std::nullopt;
    }
    return value;
  }

  bool converted(std::string_view field, double& value) {
    if (options_.decimal_comma) {
      if (field.find('.') != std::string_view::npos) return false;
      number_ = field;
      const std::size_t comma = number_.find(',');
      if (comma != std::string::npos) number_[comma] = '.';
      field = number_;
    }
    const auto [end, error] = std::from_chars(field.data(), field.data() + field.size(), value);
    if (error == std::errc::result_out_of_range) value = HUGE_VAL;
    return error != std::errc::invalid_argument && end == field.data() + field.size();
  }

  std::string number_remedy(std::string_view field) const {
    if (options_.decimal_comma) {
      return field.find('.') != std::string_view::npos
                 ? "with decimal commas a point has no place in a number"
                 : "";
    }
    return field.find(',') != std::string_view::npos
               ? "no separators of thousands; decimal commas only with --decimal-comma"
               : "";
  }

  const HistoryOptions& options_;
  input::CsvReader table_;
  History history_;
  HistoryColumns columns_;
  int line_ = 0;
  std::map<std::string, std::size_t, std::less<>> group_index_;
  std::unordered_set<std::string> all_parts_;
  std::string last_part_;  // rows of one part often stand together
  std::string number_;
};

}  // namespace

History read_history(std::string_view csv, const std::string& source_name, const HistoryOptions& options) {
  return input::read_as(input::FileKind::history, csv, source_name, [&] {
    const std::string_view text = input::checked_csv(csv, source_name);
    return HistoryReader(source_name, input::separator_of(text, options.decimal_comma), options).read(text);
  });
}

}  // namespace mendworth
