#pragma once

#include <string>
#include <vector>

#include "mendworth/beside.hpp"
#include "render/answer_words.hpp"
#include "render/document.hpp"

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
[[nodiscard]] std::string name_of_first(const Compared<Answer>& all) {
  for (const auto& other : all.beside) {
    if (other.changes.empty()) return all.answer.source_name;
  }
  return "as it is";
}

/// The lines of a table: `cells_of` gives those of one answer.
template <class Answer, class CellsOf>
[[nodiscard]] std::vector<BesideLine> beside_lines(const Compared<Answer>& all, CellsOf cells_of) {
  std::vector<BesideLine> lines{{name_of_first(all), cells_of(all.answer)}};
  for (const auto& other : all.beside) lines.push_back({other.name, cells_of(other.answer), other.changes});
  return lines;
}

/// Whether cells are starred in a form: programs read CSV.
[[nodiscard]] inline bool stars_in(const PageStyle& style) { return style.form != PageForm::csv; }

[[nodiscard]] Section beside_weighing(const Compared<Weighing>& all, bool starred);
[[nodiscard]] Section beside_buying(const Compared<Buying>& all, bool starred);
[[nodiscard]] Section beside_bulk(const Compared<BulkAnswer>& all, bool starred);

/// The names of an answer's sections, with that of what stands beside it.
[[nodiscard]] inline std::vector<std::string> with_beside(std::vector<std::string> names) {
  names.emplace_back(beside_name);
  return names;
}

/// "3 x button 6 x 6 from Home parts"; "nothing".
[[nodiscard]] std::string ordered_words(const std::vector<OrderLine>& lines);

}  // namespace mendworth
