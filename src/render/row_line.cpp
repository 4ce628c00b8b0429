#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/csv_cell.hpp"
#include "mendworth/render.hpp"
#include "render/json_support.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::array<const char*, 9> answer_headings{"verdict",   "confidence",    "best",
                                                     "currency",  "saving",        "saving_error",
                                                     "money_now", "turning_price", "problem"};

// A field of CSV; what would end the line, or speak to a terminal, becomes a space.
std::string csv_field(const std::string& as_read) {
  std::string text = defused(as_read);
  for (char& c : text) {
    if ((static_cast<unsigned char>(c) < 0x20 && c != '\t') || c == 0x7f) c = ' ';
  }
  if (text.find_first_of(",;\t\"") == std::string::npos) return text;
  std::string out = "\"";
  for (const char c : text) out += c == '"' ? "\"\"" : std::string(1, c);
  return out + '"';
}

/// What was read, by heading.
struct ReadRow {
  const std::vector<std::string>& headings;
  const std::vector<std::string>& fields;
};

struct AnsweredRow {
  ReadRow row;
  std::optional<RowAnswer> answer;
  std::string problem;
};

std::string csv_line(const std::vector<std::string>& fields) {
  std::string line;
  for (std::size_t i = 0; i < fields.size(); ++i) line += (i > 0 ? "," : "") + csv_field(fields[i]);
  return line + "\n";
}

}  // namespace

std::string row_headings_csv(const std::vector<std::string>& headings) {
  std::vector<std::string> all = headings;
  all.insert(all.end(), answer_headings.begin(), answer_headings.end());
  return csv_line(all);
}

std::string row_csv(const TableRow& row, const std::optional<RowAnswer>& answer) {
  std::vector<std::string> fields = row.fields;
  if (answer) {
    const Verdict& v = answer->verdict;
    const int digits = answer->minor_digits;
    const auto money = [digits](const std::optional<double>& sum) {
      return sum ? money_text(*sum, digits) : std::string();
    };
    const bool estimated = v.saving.has_value();
    fields.insert(fields.end(), {name_of(v.kind), name_of(v.confidence), v.best, answer->currency,
                                 money(v.saving), estimated ? money_text(v.saving_error, digits) : "",
                                 money(answer->money_now), money(answer->turning_price)});
  } else {
    fields.resize(fields.size() + answer_headings.size() - 1);
  }
  fields.push_back(row.problem);
  return csv_line(fields);
}

template <>
struct AsJson<ReadRow> {
  static Json value(const ReadRow& held, const SumStyle& /*sums*/) {
    Json out = Json::object();
    for (std::size_t i = 0; i < held.headings.size(); ++i) out.add(held.headings[i], held.fields[i]);
    return out;
  }
  static Json schema(Definitions& /*definitions*/) {
    return {{"type", "object"}, {"additionalProperties", of_type("string")}};
  }
};

template <>
Shape<RowAnswer>::Shape() {
  has({
      {"verdict", [](const R& a) { return a.verdict.kind; }},
      {"confidence", [](const R& a) { return a.verdict.confidence; }},
      {"best", [](const R& a) { return a.verdict.best; }, "name of the course of least present cost"},
      {"currency", &R::currency, "of the case, ISO 4217"},
      {"saving", [](const R& a) { return a.verdict.saving; },
       "best replacement less best repair, present cost"},
      {"saving_error",
       [](const R& a) { return a.verdict.saving ? std::optional(a.verdict.saving_error) : std::nullopt; },
       "one standard error of the simulation"},
      {"money_now", &R::money_now, "of the best course, if all goes well; own time not counted"},
      {"turning_price", &R::turning_price,
       "of the best replacement, in its own currency: there repair and replacement cost the same; null: at "
       "none"},
  });
}

template <>
Shape<AnsweredRow>::Shape() {
  has({
      {"row", &R::row, "what was read, by heading, as it stands"},
      {&R::answer},
      {"problem", [](const R& row) { return if_said(row.problem); }, "why there is no answer"},
  });
}

constexpr AnswerOf<AnsweredRow> row_form{
    {.schema = "a line of mendworth rows --format json",
     .meaning = "One line of 'mendworth rows'. Numbers are not rounded and always finite.",
     .names_program = false}};

std::string row_json(const std::vector<std::string>& headings, const TableRow& row,
                     const std::optional<RowAnswer>& answer) {
  const AnsweredRow answered{{headings, row.fields}, answer, row.problem};
  return row_form.json(answered).line() + "\n";
}

const std::string& row_schema() { return row_form.json_schema(); }

}  // namespace mendworth
