#pragma once

#include <string>
#include <vector>

#include "mendworth/beside.hpp"
#include "render/answer_words.hpp"
#include "render/document.hpp"
#include "render/json_value.hpp"

/// Answers side by side, for every command alike.
namespace mendworth {

inline constexpr const char* beside_name = "what-if";  ///< of the section and of its table

/// What a comparison shows of one case; cells go with the columns after the name.
struct BesideLine {
  std::string name;
  std::vector<std::string> cells;
  std::vector<Change> changes{};
  std::size_t against = 0;  ///< the line that it is compared with
};

/// A table of cases, and below it what was changed. With `starred` a cell that reads otherwise than in the line that it is
/// compared with begins with a star. Empty for a single line.
[[nodiscard]] Section beside_section(std::vector<Table::Column> columns, const std::vector<BesideLine>& lines,
                                     bool starred);

/// How the first case is called: by its file where other files stand beside it.
template <class Answer>
[[nodiscard]] std::string name_of_first(const std::string& source_name, const BesideList<Answer>& beside) {
  for (const auto& other : beside) {
    if (other.changes.empty()) return source_name;
  }
  return "as it is";
}

/// The lines of a table: `cells_of` gives those of one answer.
template <class Answer, class CellsOf>
[[nodiscard]] std::vector<BesideLine> beside_lines(const Answer& first, const std::string& source_name,
                                                   const BesideList<Answer>& beside, CellsOf cells_of) {
  std::vector<BesideLine> lines{{name_of_first(source_name, beside), cells_of(first)}};
  for (const auto& other : beside) lines.push_back({other.name, cells_of(other.answer), other.changes});
  return lines;
}

/// Whether cells are starred in a form: programs read CSV.
[[nodiscard]] inline bool stars_in(const PageStyle& style) { return style.form != PageForm::csv; }

[[nodiscard]] Section beside_weighing(const Weighing& w, const BesideList<Weighing>& beside, bool starred);
[[nodiscard]] Section beside_buying(const Buying& b, const BesideList<Buying>& beside, bool starred);
[[nodiscard]] Section beside_bulk(const BulkAnswer& a, const BesideList<BulkAnswer>& beside, bool starred);

/// The names of an answer's sections, with that of what stands beside it.
[[nodiscard]] inline std::vector<std::string> with_beside(std::vector<std::string> names) {
  names.emplace_back(beside_name);
  return names;
}

/// "3 x button 6 x 6 from Home parts"; "nothing".
[[nodiscard]] std::string ordered_words(const std::vector<OrderLine>& lines);

/// The JSON text of an answer with those that stand beside it, each as it would be alone.
template <class Answer, class JsonOf>
[[nodiscard]] std::string json_beside(std::string answer, const BesideList<Answer>& beside, JsonOf json_of) {
  if (beside.empty()) return answer;
  Json out = Json::read(answer).value();
  Json others = Json::array();
  for (const auto& other : beside) {
    Json changes = Json::array();
    for (const Change& change : other.changes)
      changes.push_back({{"key", change.key}, {"from", change.from}, {"to", change.to}});
    others.push_back({{"name", other.name},
                      {"changes", std::move(changes)},
                      {"answer", Json::read(json_of(other.answer)).value()}});
  }
  out.add("beside", std::move(others));
  return out.text();
}

}  // namespace mendworth
