#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"
#include "render/weighing_charts.hpp"

namespace mendworth {

namespace {

// The options of a weighing as rows.
class OptionCells {
 public:
  explicit OptionCells(const Weighing& w) : sums_(w.currency, w.minor_digits) {
    for (const OptionResult& option : w.options)
      largest_ = std::max({largest_, std::abs(option.present_cost), std::abs(option.cost_now)});
    const bool unpriced = w.verdict.kind == VerdictKind::price_unknown;
    marked_ = unpriced ? w.verdict.best_repair.value_or("") : w.verdict.best;
  }
  [[nodiscard]] std::string money(double value) const { return sums_.cell(value, largest_); }
  // Where the price of the replacement is not known, p stands for it.
  [[nodiscard]] std::string present(const OptionResult& option) const {
    const std::string known = money(option.present_cost);
    return option.price_weight == 0 ? known
                                    : fmt::format("{} + {}p", known, number_text(option.price_weight));
  }
  [[nodiscard]] std::string now(const OptionResult& option, double value) const {
    const bool buys = option.kind == OptionKind::replacement && option.price_weight != 0;
    if (!buys) return money(value);
    return value == 0 ? "p" : money(value) + " + p";
  }
  [[nodiscard]] std::string yearly(const OptionResult& option) const {
    return option.price_weight == 0 ? money(option.cost_per_year) : "-";
  }
  void add(Table& table, const OptionResult& option, std::vector<std::string> cells) const {
    const bool best = option.name == marked_;
    cells.insert(cells.begin(), option.name);
    table.add(std::move(cells), best ? Table::Role::best : Table::Role::plain, best ? "*" : "");
  }

 private:
  Sums sums_;
  double largest_ = 0;
  std::string marked_;
};

std::string costs_span(const Weighing& w) {
  return w.currency + (w.need_years ? " over " + years_text(*w.need_years) : "");
}

}  // namespace

Table short_options(const Weighing& w, std::size_t most) {
  Table table{.columns = {{"course, " + costs_span(w), false},
                          {"money now"},
                          {.heading = "minutes now", .spare = true},
                          {"cost a year"},
                          {"present cost"}},
              .name = "options-short"};
  const OptionCells cells(w);
  const auto named = [&](const OptionResult& option) {
    return option.name == w.verdict.best || option.name == w.verdict.best_repair ||
           option.name == w.verdict.best_replacement;
  };
  auto others = static_cast<std::ptrdiff_t>(most) - std::ranges::count_if(w.options, named);
  for (const OptionResult& option : w.options) {
    if (!named(option) && others-- <= 0) continue;
    cells.add(table, option,
              {cells.now(option, option.cash_now), money_text(option.minutes_now, 0), cells.yearly(option),
               cells.present(option)});
  }
  return table;
}

Section options_section(const Weighing& w) {
  const bool unpriced = w.verdict.kind == VerdictKind::price_unknown;
  Section section{fmt::format("The courses{} ({})", unpriced ? "" : ", cheapest first", costs_span(w))};
  Table table{.columns = {{"course", false},
                          {"money now"},
                          {"minutes now"},
                          {"cost now"},
                          {"present cost"},
                          {"cost a year"}},
              .name = "options"};
  const OptionCells cells(w);
  double error = 0;
  bool price_missing = false;
  for (const OptionResult& option : w.options) {
    price_missing = price_missing || option.price_weight != 0;
    error = std::max(error, option.present_cost_error);
    cells.add(table, option,
              {cells.now(option, option.cash_now), money_text(option.minutes_now, 0),
               cells.now(option, option.cost_now), cells.present(option), cells.yearly(option)});
  }
  section.add(std::move(table));
  if (section.empty()) return section;
  section.say(
      fmt::format("* {}. Cost now: the money and your time. Simulation error of a present cost: at most {}.",
                  unpriced ? "best repair" : "least expected present cost",
                  Sums(w.currency, w.minor_digits).amount(error)));
  section.add(costs_chart(w));
  if (price_missing) {
    section.say("p: the price of the replacement, which is not known.");
    return section;
  }
  Table money;
  money.name = "cash";
  money.columns = {{"money paid, expected, within", false}, {"1 year"}, {"3 years"}, {"5 years"}};
  for (const OptionResult& option : w.options) {
    std::vector<std::string> paid;
    for (const double sum : option.cash_within) paid.push_back(cells.money(sum));
    cells.add(money, option, paid);
  }
  section.add(std::move(money));
  return section;
}

Section costs_section(const Weighing& w) {
  Section section{fmt::format("What the money goes to, present cost ({})", w.currency)};
  const OptionResult* repair = find_option(w, w.verdict.best_repair);
  const OptionResult* replacement = find_option(w, w.verdict.best_replacement);
  std::vector<const OptionResult*> options;
  Table table{.columns = {{"what for", false}}, .name = "costs"};
  const auto add = [&](const OptionResult* option, const char* heading) {
    if (option == nullptr) return;
    options.push_back(option);
    table.columns.push_back({heading});
  };
  add(repair,
      repair != nullptr && repair->kind == OptionKind::licensed_repair ? "licensed repair" : "best repair");
  add(replacement, "best replacement");
  if (options.empty()) return section;
  const OptionCells cells(w);
  for (const CostRow& row : cost_rows) {
    std::vector<std::string> sums{row.label};
    for (const OptionResult* option : options) sums.push_back(cells.money(option->parts.*row.part));
    const auto pays = [&](const OptionResult* option) { return option->parts.*row.part != 0; };
    if (std::ranges::any_of(options, pays)) table.add(sums);
  }
  std::vector<std::string> totals{"total"};
  for (const OptionResult* option : options) totals.push_back(cells.money(option->present_cost));
  table.add(totals, Table::Role::total);
  section.add(std::move(table));
  if (repair != nullptr && repair->price_weight != 0) {
    section.say(fmt::format("The repair's total goes up by {} times the unknown price of the replacement.",
                            number_text(repair->price_weight)));
  }
  section.add(cost_in_time_chart(w));
  return section;
}

}  // namespace mendworth
