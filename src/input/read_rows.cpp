#include "input/read_rows.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include <fmt/format.h>

#include "domain/inputs.hpp"
#include "input/case_reader.hpp"
#include "input/csv_reading.hpp"
#include "input/overrides.hpp"
#include "input/read_what_ifs.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/rows.hpp"

namespace mendworth {

namespace input {

namespace {

/// Where a key leads in a document, spelt in one way; reports a key that a case cannot have, under the name `shown`.
std::optional<std::string> entry_path(const Node& document, const std::string& key, Place place,
                                      const std::string& shown, std::vector<EntrySet>& so_far,
                                      Problems& problems) {
  // A trial that changes nothing finds out.
  Node trial = document;
  std::string path;
  const std::size_t before = problems.count();
  set_entry(trial,
            {.key = key,
             .words = key,
             .place = place,
             .value =
                 [&path](const Node*, const std::string& leads_to) {
                   path = leads_to;
                   return std::optional<Node>();
                 }},
            so_far, problems);
  if (problems.count() > before) return std::nullopt;
  if (find_input(case_inputs(), path) != nullptr) return path;
  const std::size_t dot = path.rfind('.');
  const auto table = dot == std::string::npos ? case_inputs() : [&]() -> std::span<const Input> {
    const Input* found = find_input(case_inputs(), path.substr(0, dot));
    return found == nullptr ? std::span<const Input>() : found->within;
  }();
  std::vector<std::string> known;
  for (const Input& input : table) known.emplace_back(input.key);
  problems.add(place, shown, fmt::format("a case has no key '{}'", printable(key)),
               suggestion(path.substr(dot == std::string::npos ? 0 : dot + 1), known));
  return std::nullopt;
}

}  // namespace

std::vector<RowWord> read_row_words(const Node& document, Problems& problems) {
  std::vector<RowWord> words;
  const Node* section = document.find("rows");
  if (section == nullptr) return words;
  if (!section->is_table()) {
    problems.add(section->place, "rows", fmt::format("found {}, a table is wanted", section->described()),
                 "write [rows] on a line of its own");
    return words;
  }
  for (const Entry& entry : section->entries) {
    const std::string shown = "rows." + printable(entry.key);
    if (!entry.value.is_text()) {
      problems.add(
          entry.value.place, shown,
          fmt::format("found {}, the key that the word stands for is wanted", entry.value.described()),
          fmt::format("{} = \"device.age_years\"", printable(entry.key)));
      continue;
    }
    std::vector<EntrySet> alone;
    if (entry_path(document, entry.value.text, entry.value.place, shown, alone, problems))
      words.push_back({entry.key, entry.value.text});
  }
  return words;
}

}  // namespace input

using input::Node;
using input::printable;

struct RowReader::State {
  struct Column {
    std::string key;  ///< empty: not read
    bool is_text = false;
  };
  std::string source_name;
  const RateBook* rates = nullptr;
  Node document;
  char separator = ',';
  bool decimal_comma = false;
  std::vector<std::string> headings;
  std::vector<Column> columns;

  void resolve(const std::vector<RowWord>& words, input::Problems& problems);
  [[nodiscard]] std::optional<Node> value_of_field(const std::string& field, bool is_text) const;
  void change(Node& changed, const std::vector<std::string>& fields, input::Problems& problems) const;
};

namespace {

constexpr std::string_view separators = ",;\t";
constexpr std::size_t most_problems_said = 3;

/// The fields of a line; `problem` says why there are none.
std::vector<std::string> fields_of(std::string_view line, char separator, std::string& problem) {
  std::vector<std::string> fields;
  std::string readable;
  if (const auto bad = input::find_bad_byte(line)) {
    problem = fmt::format("this is no UTF-8 text: found the byte 0x{:02X}", bad->byte);
    constexpr std::size_t widest_byte = 4;  // written as \xNN
    line = readable =
        printable(line, widest_byte * line.size());  // so that what can be read says which row it is
  }
  input::read_csv(line, separator,
                  {[&](const input::CsvRow& row) {
                     for (const std::string_view field : row.fields) fields.emplace_back(field);
                     if (row.field_count > fields.size())
                       problem = fmt::format("more than {} fields", input::most_csv_fields);
                     return false;
                   },
                   [&](int, const std::string& message) {
                     problem = message;
                     return false;
                   }});
  return fields;
}

/// Written "key: what is wrong (what to do)", the first few.
std::string said_of(const InputError& error) {
  std::string said;
  const auto& problems = error.problems();
  for (std::size_t i = 0; i < std::min(problems.size(), most_problems_said); ++i) {
    const Diagnostic& problem = problems[i];
    said += (i > 0 ? "; " : "") + (problem.key.empty() ? "" : problem.key + ": ") + problem.message;
    if (!problem.remedy.empty()) said += " (" + problem.remedy + ")";
  }
  if (problems.size() > most_problems_said)
    said += fmt::format("; and {} more", problems.size() - most_problems_said);
  return said;
}

/// 1,5 to 1.5; what is no such number stays.
std::string with_point(std::string text) {
  const std::size_t comma = text.find(',');
  if (comma != std::string::npos && text.find_first_not_of("+-0123456789,") == std::string::npos &&
      text.find(',', comma + 1) == std::string::npos)
    text[comma] = '.';
  return text;
}

}  // namespace

/// Each heading to the key that it stands for. What looks like a slip is reported: left alone, it would change answers
/// without a word.
void RowReader::State::resolve(const std::vector<RowWord>& words, input::Problems& problems) {
  std::vector<std::string> known;
  for (const RowWord& word : words) known.push_back(word.word);
  std::vector<input::EntrySet> so_far;
  bool any = false;
  for (const std::string& heading : headings) {
    Column column;
    const auto word = std::ranges::find_if(
        words, [&](const RowWord& w) { return input::lower_case(w.word) == input::lower_case(heading); });
    if (word != words.end()) {
      column.key = word->key;
    } else if (heading.find('.') != std::string::npos) {
      column.key = heading;
    } else if (const auto meant = input::nearest(heading, known)) {
      problems.add({1, 0, false}, printable(heading), "no word of the case's [rows]",
                   fmt::format("did you mean '{}'?", *meant));
    }
    if (!column.key.empty()) {
      const auto path =
          input::entry_path(document, column.key, {1, 0, false}, printable(heading), so_far, problems);
      const Input* found = path ? find_input(case_inputs(), *path) : nullptr;
      column.is_text =
          found != nullptr && (found->kind == InputKind::text || found->kind == InputKind::choice);
      any = true;
    }
    columns.push_back(std::move(column));
  }
  if (!any) {
    problems.add({1, 0, false}, "", "no column of the table sets anything in the case",
                 known.empty()
                     ? "a heading is a key, for instance device.age_years; or a word of the case's [rows]"
                     : fmt::format("the words of its [rows] are: {}", fmt::join(known, ", ")));
  }
}

std::optional<Node> RowReader::State::value_of_field(const std::string& field, bool is_text) const {
  if (!is_text) return input::value_of(decimal_comma ? with_point(field) : field, {});
  Node node;
  node.kind = Node::Kind::text;
  node.text = field;
  return node;
}

void RowReader::State::change(Node& changed, const std::vector<std::string>& fields,
                              input::Problems& problems) const {
  std::vector<input::EntrySet> so_far;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].key.empty() || fields[i].empty()) continue;
    std::optional<Node> value = value_of_field(fields[i], columns[i].is_text);
    if (!value) {
      problems.add({}, columns[i].key, fmt::format("'{}' is no value", printable(fields[i])));
      continue;
    }
    input::set_entry(changed,
                     {.key = columns[i].key,
                      .words = headings[i],
                      .place = {},
                      .is_list = value->is_array(),
                      .value = [&](const Node*, const std::string&) { return value; }},
                     so_far, problems);
  }
}

RowReader::RowReader(std::string_view case_text, const std::string& source_name, const RateBook& rates,
                     const std::vector<std::string>& overrides, std::string_view header,
                     const std::string& table_name, const RowTableOptions& options) {
  const Case base = read_case(case_text, source_name, rates, overrides);
  State state;
  state.source_name = source_name;
  state.rates = &rates;
  state.decimal_comma = options.decimal_comma;
  input::Problems problems(source_name);
  state.document = input::parse_document(case_text, source_name);
  input::apply_overrides(state.document, overrides, problems);
  static_cast<void>(input::take_what_ifs(state.document));

  input::Problems of_table(table_name);
  state.separator = input::separator_of_header(header, separators, [&](const input::CsvRow& row) {
    return static_cast<std::size_t>(std::ranges::count_if(row.fields, [&](std::string_view field) {
      const std::string name = input::lower_case(field);
      return std::ranges::any_of(base.row_words,
                                 [&](const RowWord& word) { return input::lower_case(word.word) == name; });
    }));
  });
  std::string problem;
  state.headings =
      options.header ? fields_of(*options.header, ',', problem) : fields_of(header, state.separator, problem);
  if (problem.empty() && header.find_first_of("#[{") == 0)
    problem = "this is no table of devices: a CSV file is wanted, its first row names the columns";
  if (!problem.empty()) of_table.add({1, 0, false}, "", problem);
  if (problem.empty()) state.resolve(base.row_words, of_table);
  of_table.throw_if_any();
  state_ = std::make_unique<const State>(std::move(state));
}

RowReader::~RowReader() = default;
RowReader::RowReader(RowReader&&) noexcept = default;

const std::vector<std::string>& RowReader::headings() const noexcept { return state_->headings; }

TableRow RowReader::read(std::string_view line) const {
  const State& state = *state_;
  TableRow row;
  if (line.size() > longest_row) {
    row.problem = fmt::format("longer than {} bytes: this is no row", longest_row);
  } else {
    row.fields = fields_of(line, state.separator, row.problem);
  }
  const std::size_t found = row.fields.size();
  row.fields.resize(state.headings.size());
  if (!row.problem.empty()) return row;
  if (found != state.headings.size()) {
    row.problem = input::wrong_field_count(found, state.headings.size());
    return row;
  }
  try {
    input::Problems problems(state.source_name);
    Node changed = state.document;
    state.change(changed, row.fields, problems);
    problems.throw_if_any();
    Case c = input::CaseReader(changed, state.source_name, *state.rates, problems).read();
    problems.throw_if_any();
    row.c = std::move(c);
  } catch (const InputError& error) {
    row.problem = said_of(error);
  }
  return row;
}

}  // namespace mendworth
