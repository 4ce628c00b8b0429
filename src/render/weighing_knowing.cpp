#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"
#include "render/weighing_charts.hpp"

namespace mendworth {

namespace {

constexpr double share_worth_a_row = 0.01;
constexpr std::size_t most_inputs_shown = 16, most_to_find_out = 3;

bool before_ordering(FoundOut who) {
  return who == FoundOut::owner || who == FoundOut::look || who == FoundOut::asking;
}

// Marks of rows, explained below the table.
const char* teller_mark(FoundOut who) {
  switch (who) {
    case FoundOut::owner: return "o";
    case FoundOut::look: return "l";
    case FoundOut::asking: return "a";
    case FoundOut::record: return "r";
    case FoundOut::nobody: break;
  }
  return "";
}

std::string group_words(const std::string& name) {
  if (name == "owner") return "what the owner can tell";
  if (name == "look") return "what a look inside and measuring tell";
  if (name == "asking") return "what asking suppliers and shops tells";
  if (name == "before-ordering") return "all that can be found out before ordering";
  if (name == "record") return "what a shop's own record would tell";
  return "every uncertain number";
}

Table inputs_table(const Knowing& knowing, const Sums& sums) {
  Table table{.columns = {{"number", false}, {"alone"}, {"+/-"}, {"in all"}, {"+/-"}, {"worth"}, {"+/-"}},
              .name = "knowing"};
  for (const KnowingRow& row : knowing.inputs) {
    const bool luck = row.key == "luck";
    const bool matters = std::max(row.first, row.total) >= share_worth_a_row || row.is_worth_something();
    if (!luck && (!matters || table.rows.size() >= most_inputs_shown)) continue;
    table.add({row.label, percent_text(row.first), percent_text(row.first_error), percent_text(row.total),
               percent_text(row.total_error), luck ? "" : sums.cell(row.worth, 0, row.worth_error),
               luck ? "" : error_text(row.worth_error, sums.minor_digits())},
              Table::Role::plain, teller_mark(row.found_out));
  }
  return table;
}

Table groups_table(const Knowing& knowing, const Sums& sums) {
  Table table{.columns = {{"known before ordering", false}, {"numbers"}, {"worth at most"}, {"+/-"}},
              .name = "knowing-groups"};
  const auto add = [&](const std::string& what, const std::string& count, double worth, double error) {
    table.add({what, count, sums.cell(worth, 0, error), error_text(error, sums.minor_digits())});
  };
  for (const KnowingGroup& group : knowing.groups)
    add(group_words(group.name), std::to_string(group.keys.size()), group.worth, group.worth_error);
  add("luck as well: nothing can be worth more", "", knowing.foresight, knowing.foresight_error);
  return table;
}

}  // namespace

std::string find_out_first(const Weighing& w) {
  if (!w.knowing) return "";
  const Sums sums(w.currency, w.minor_digits);
  std::vector<std::string> worth;
  for (const KnowingRow& row : w.knowing->inputs) {
    if (worth.size() == most_to_find_out || !row.is_worth_something() || !before_ordering(row.found_out))
      continue;
    worth.push_back(
        fmt::format("{}, worth at most {}", row.label, sums.estimate(row.worth, row.worth_error)));
  }
  std::string all;
  for (const KnowingGroup& group : w.knowing->groups) {
    if (group.name == "before-ordering" && group.is_worth_something() && group.keys.size() > 1)
      all = sums.estimate(group.worth, group.worth_error);
  }
  if (worth.empty() && all.empty())
    return "Nothing that could be found out before ordering would change the choice.";
  if (worth.empty()) {
    return fmt::format(
        "No single number is worth finding out before ordering; all of them together at most {}.", all);
  }
  const std::string first = fmt::format("Find out before ordering: {}", fmt::join(worth, "; "));
  return all.empty() ? first + "." : fmt::format("{}; all that can be found out: {}.", first, all);
}

Section knowing_section(const Weighing& w) {
  Section section{fmt::format("What is not known exactly, and what knowing it is worth ({})", w.currency)};
  if (!w.knowing) return section;
  const Knowing& knowing = *w.knowing;
  const Sums sums(w.currency, w.minor_digits);
  section.say(find_out_first(w));
  Table inputs = inputs_table(knowing, sums);
  const std::size_t left_out = knowing.inputs.size() - inputs.rows.size();
  bool marked = inputs.has_marks();
  section.add(std::move(inputs));
  if (marked) {
    section.say(
        "Who can tell: o the owner, l who looks inside and measures, a who asks suppliers and shops, r a "
        "shop's own record.");
  }
  section.say(fmt::format(
      "From future to future the saving by repair varies by {} (one standard deviation). Alone: by how much "
      "of its variance falls away on average once this is known; in all: what would be left of it if all "
      "else were known. Worth: by how much the expected cost falls if this is known before the best of the "
      "courses above is chosen. {} futures; {} for \"in all\".",
      sums.amount(knowing.deviation), knowing.futures, knowing.total_futures));
  if (left_out > 0) {
    section.say(fmt::format("Left out: {} that hardly matter; --format json has them.",
                            count_text(static_cast<long long>(left_out), "number", "numbers")));
  }
  section.add(groups_table(knowing, sums));
  section.add(knowing_chart(w));
  return section;
}

// A cell is marked where the answer is another than in the case.
Section grid_section(const Weighing& w) {
  if (!w.grid) return Section{"The saving over two numbers"};
  const SavingGrid& grid = *w.grid;
  Section section{fmt::format("The saving by repair ({}): {} across, {} down", w.currency, grid.across.label,
                              grid.down.label)};
  const Sums sums(w.currency, w.minor_digits);
  double largest = 0;
  for (const auto& row : grid.rows) {
    for (const SavingGrid::Point& point : row) largest = std::max(largest, std::abs(point.saving));
  }
  Table table{.columns = {{"", true}}, .name = "against"};
  for (const double value : grid.across.values) table.columns.push_back({number_text(value)});
  for (std::size_t r = grid.rows.size(); r-- > 0;) {
    std::vector<std::string> cells{number_text(grid.down.values[r])};
    for (std::size_t c = 0; c < grid.rows[r].size(); ++c) {
      const SavingGrid::Point& point = grid.rows[r][c];
      const std::string text = sums.cell(point.saving, largest, point.error);
      const bool repair = point.saving > 0, unsure = std::abs(point.saving) <= 2.0 * point.error;
      cells.push_back(unsure ? "(" + text + ")" : repair ? text : "[" + text + "]");
    }
    table.add(std::move(cells));
  }
  section.add(std::move(table));
  section.say(
      "Above nought repair costs less; in [square brackets] a replacement does; in (round brackets) it is "
      "nought within two standard errors.");
  section.say(grid.zero_line.empty()
                  ? "Nowhere on the grid does the answer turn."
                  : "The answer turns where plain numbers and those in square brackets meet.");
  section.add(grid_chart(w));
  return section;
}

}  // namespace mendworth
