#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

struct CostRow {
  const char* label;
  double CostParts::*part;
};

constexpr std::array<CostRow, 13> cost_rows{{
    {"parts, with tax", &CostParts::parts},
    {"shipping, fees and duty of the order", &CostParts::shipping},
    {"own time and what an opening uses up", &CostParts::labour},
    {"risk at the first visit", &CostParts::risk},
    {"later visits", &CostParts::later_visits},
    {"purchase now", &CostParts::purchase},
    {"devices bought later", &CostParts::next_device},
    {"days without the device", &CostParts::downtime},
    {"living with the fault", &CostParts::burden},
    {"losing this very device", &CostParts::keepsake},
    {"less: spares used for other jobs or sold", &CostParts::leftovers},
    {"less: resale and scrap", &CostParts::resale},
    {"less: benefit of a better device", &CostParts::benefit},
}};

double largest_cost(const Weighing& w) {
  double largest = 0;
  for (const OptionResult& option : w.options) {
    largest = std::max({largest, std::abs(option.present_cost), std::abs(option.cost_now)});
  }
  return largest;
}

}  // namespace

void options_section(Page& page, const Weighing& w) {
  if (w.options.empty()) return;
  const bool unpriced = w.verdict.kind == VerdictKind::price_unknown;
  const std::string span = w.need_years ? " over " + years_text(*w.need_years) : "";
  page.heading(fmt::format("Options{}{} ({})", span, unpriced ? "" : ", cheapest first", w.currency));
  Table table({{"", Table::Align::left},
               {"option", Table::Align::left, true},
               {"cash\nnow"},
               {"min\nnow"},
               {"cost\nnow"},
               {"present\ncost"},
               {"per\nyear"}});
  const double largest = largest_cost(w);
  bool price_missing = false;
  double error = 0;
  const std::string marked = unpriced ? w.verdict.best_repair.value_or("") : w.verdict.best;
  for (const OptionResult& option : w.options) {
    const bool best = option.name == marked;
    std::string present = cell(w, option.present_cost, largest);
    std::string yearly = cell(w, option.cost_per_year, largest);
    if (option.price_weight != 0) {
      present += fmt::format(" + {}p", number_text(option.price_weight));
      yearly = "-";
      price_missing = true;
    }
    error = std::max(error, option.present_cost_error);
    table.add_row({best ? "*" : "", option.name, cell(w, option.cash_now, largest),
                   money_text(option.minutes_now, 0), cell(w, option.cost_now, largest), present, yearly},
                  best);
  }
  page.table(table);
  page.paragraph(fmt::format("* {}. Simulation error of a present cost: at most {}.",
                             unpriced ? "best repair" : "least expected present cost", amount(w, error)),
                 false, 2);
  if (price_missing) {
    page.paragraph("p: the price of the replacement, which is not known.", false, 2);
    return;
  }
  Table money(
      {{"money paid, expected, within", Table::Align::left, true}, {"1 year"}, {"3 years"}, {"5 years"}});
  for (const OptionResult& option : w.options) {
    std::vector<std::string> cells{option.name};
    for (const double paid : option.cash_within) cells.push_back(cell(w, paid, largest));
    money.add_row(cells, option.name == marked);
  }
  page.empty_line();
  page.table(money);
}

void cost_section(Page& page, const Weighing& w) {
  const OptionResult* repair = find_option(w, w.verdict.best_repair);
  const OptionResult* replacement = find_option(w, w.verdict.best_replacement);
  if (repair == nullptr && replacement == nullptr) return;

  page.heading(fmt::format("What the money goes to, present cost ({})", w.currency));
  std::vector<Table::Column> columns{{"", Table::Align::left, true}};
  if (repair != nullptr)
    columns.push_back({repair->kind == OptionKind::licensed_repair ? "licensed\nrepair" : "best\nrepair"});
  if (replacement != nullptr) columns.push_back({"best\nreplacement"});
  Table table(columns);
  const double largest = largest_cost(w);
  for (const CostRow& row : cost_rows) {
    std::vector<std::string> cells{row.label};
    bool something = false;
    for (const OptionResult* option : {repair, replacement}) {
      if (option == nullptr) continue;
      const double value = option->parts.*row.part;
      something = something || value != 0;
      cells.push_back(cell(w, value, largest));
    }
    if (something) table.add_row(cells);
  }
  std::vector<std::string> totals{"total"};
  for (const OptionResult* option : {repair, replacement}) {
    if (option != nullptr) totals.push_back(cell(w, option->present_cost, largest));
  }
  table.add_row(totals, true);
  page.table(table);
  if (repair != nullptr && repair->price_weight != 0) {
    page.paragraph(fmt::format("The repair's total goes up by {} times the unknown price of the replacement.",
                               number_text(repair->price_weight)),
                   false, 2);
  }
}

}  // namespace mendworth
