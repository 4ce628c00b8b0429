#include "input/history_columns.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "input/csv_reading.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

struct AgeColumn {
  const char* name;
  LifeUnit unit;
};
constexpr std::array<AgeColumn, 3> age_columns = {
    {{"age_cycles", LifeUnit::cycles}, {"age_hours", LifeUnit::hours}, {"age_years", LifeUnit::years}}};

const std::vector<std::string>& measured_columns() {
  static const std::vector<std::string> names = {"age_cycles", "age_hours",  "age_years", "state",
                                                 "worked_at",  "first_seen", "count"};
  return names;
}

bool is_known(std::string_view name) {
  const auto& measured = measured_columns();
  return name == "part" || std::ranges::find(measured, name) != measured.end();
}

std::size_t known_history_columns(const CsvRow& header) {
  std::size_t known = 0;
  for (const std::string_view name : header.fields) known += is_known(lower_case(name)) ? 1U : 0U;
  return known;
}

class HeaderReader {
 public:
  HeaderReader(const CsvRow& header, const HistoryOptions& options, Problems& problems)
      : options_(options), problems_(problems), place_{header.line, 0, false} {
    columns_.count = header.field_count;
    for (const std::string_view name : header.fields) {
      written_.emplace_back(name);
      names_.push_back(lower_case(name));
    }
  }

  std::optional<HistoryColumns> read() {
    const std::size_t before = problems_.count();
    find_age();
    if (const auto state = find("state")) {
      columns_.state = *state;
    } else {
      add("state", "this column is missing: each row says 'failed' or 'working'", near_miss("state"));
    }
    columns_.worked_at = find("worked_at");
    columns_.first_seen = find("first_seen");
    columns_.pieces = find("count");
    columns_.part = find("part");
    if (!options_.part.empty() && !columns_.part) {
      add("part",
          fmt::format("part '{}' is asked for, but no column says which part a row is about",
                      printable(options_.part)),
          near_miss("part"));
    }
    find_group();
    find_misspelt();
    if (problems_.count() > before) return std::nullopt;
    return columns_;
  }

 private:
  void add(std::string key, std::string message, std::string remedy = "") {
    problems_.add(place_, std::move(key), std::move(message), std::move(remedy));
  }

  /// The column of this name; one that stands twice is a problem.
  std::optional<std::size_t> find(const std::string& name) { return find_in(names_, name); }

  std::optional<std::size_t> find_in(const std::vector<std::string>& names, const std::string& name) {
    const auto at = std::ranges::find(names, name);
    if (at == names.end()) return std::nullopt;
    if (std::find(at + 1, names.end(), name) != names.end()) {
      add(printable(name), "this column stands there twice", "keep one, or give the other one another name");
    }
    return static_cast<std::size_t>(at - names.begin());
  }

  std::string near_miss(const std::string& wanted) const {
    const auto found = nearest(wanted, written_);
    return found ? fmt::format("is '{}' meant to be it?", printable(*found)) : std::string();
  }

  void find_age() {
    bool found = false;
    for (const AgeColumn& candidate : age_columns) {
      const auto at = find(candidate.name);
      if (!at) continue;
      if (found) {
        add(candidate.name, fmt::format("the age stands in '{}' already", columns_.age_name),
            "a history has its ages in one unit: keep one of the columns");
        continue;
      }
      found = true;
      columns_.age = *at;
      columns_.age_name = candidate.name;
      columns_.unit = candidate.unit;
    }
    if (found) return;
    std::string remedy = "name it with its unit: age_cycles, age_hours or age_years";
    if (options_.decimal_comma && names_.size() == 1) {
      remedy += "; with decimal commas the separator is a semicolon or a tab";
    }
    add("", "the column with the ages is missing", remedy);
  }

  /// The column that is meant, or those there are to choose from.
  std::string group_remedy(const std::string& wanted) const {
    const auto& measured = measured_columns();
    std::vector<std::string> choices;
    for (std::size_t i = 0; i < names_.size(); ++i) {
      const bool is_measured = std::ranges::find(measured, names_[i]) != measured.end();
      if (!is_measured && !names_[i].empty()) choices.push_back(written_[i]);
    }
    if (choices.empty()) return "every column of this file is one of those that are measured";
    std::string list;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      const std::string next = (i == 0 ? "" : ", ") + printable(choices[i]);
      if (i > 0 && list.size() + next.size() > longest_list) {
        list += fmt::format(" and {} more", choices.size() - i);
        break;
      }
      list += next;
    }
    return printable(suggestion(wanted, choices, "known are: " + list), 2 * longest_list);
  }

  void find_group() {
    const std::string& wanted = options_.group_column;
    if (wanted.empty()) return;
    const auto& measured = measured_columns();
    columns_.group = find_in(written_, wanted);
    if (!columns_.group) {
      add(printable(wanted), "there is no such column to group by", group_remedy(wanted));
    } else if (std::ranges::find(measured, names_[*columns_.group]) != measured.end()) {
      add(printable(wanted), "this column is what is measured: it is none to group by");
    }
  }

  /// A column that is left alone because of one wrong letter would change the answer without a word.
  void find_misspelt() {
    for (std::size_t i = 0; i < names_.size(); ++i) {
      if (is_known(names_[i]) || columns_.group == i || names_[i].size() > longest_misspelt) continue;
      for (const char* known : {"worked_at", "first_seen", "count"}) {
        if (std::ranges::find(names_, known) != names_.end()) continue;
        if (edit_distance(names_[i], known) > 1) continue;
        add(printable(written_[i]), fmt::format("this column is nearly '{}'", known),
            fmt::format("name it '{}', or else something less like it", known));
      }
    }
  }

  static constexpr std::size_t longest_misspelt = 20;
  static constexpr std::size_t longest_list = 150;  // characters of a list of columns

  const HistoryOptions& options_;
  Problems& problems_;
  Place place_;
  std::vector<std::string> written_;  // as in the file
  std::vector<std::string> names_;    // in lower case
  HistoryColumns columns_;
};

}  // namespace

char separator_of(std::string_view csv, bool decimal_comma) {
  return separator_of_header(csv, decimal_comma ? ";\t" : ",;\t", known_history_columns);
}

std::optional<HistoryColumns> read_history_header(const CsvRow& header, const HistoryOptions& options,
                                                  Problems& problems) {
  return HeaderReader(header, options, problems).read();
}

}  // namespace mendworth::input
