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
    fields.insert(fields.end(), {word(v.kind), word(v.confidence), v.best, answer->currency, money(v.saving),
                                 estimated ? money_text(v.saving_error, digits) : "",
                                 money(answer->money_now), money(answer->turning_price)});
  } else {
    fields.resize(fields.size() + answer_headings.size() - 1);
  }
  fields.push_back(row.problem);
  return csv_line(fields);
}

std::string row_json(const std::vector<std::string>& headings, const TableRow& row,
                     const std::optional<RowAnswer>& answer) {
  Json read = Json::object();
  for (std::size_t i = 0; i < headings.size(); ++i) read.add(headings[i], row.fields[i]);
  Json out = Json::object();
  out.add("row", std::move(read));
  if (answer) {
    const Verdict& v = answer->verdict;
    out.add("verdict", word(v.kind));
    out.add("confidence", word(v.confidence));
    out.add("best", v.best);
    out.add("currency", answer->currency);
    out.add("saving", number(v.saving));
    out.add("saving_error", v.saving ? number(v.saving_error) : Json(nullptr));
    out.add("money_now", number(answer->money_now));
    out.add("turning_price", number(answer->turning_price));
  }
  out.add("problem", row.problem.empty() ? Json(nullptr) : Json(row.problem));
  return out.line() + "\n";
}

}  // namespace mendworth
