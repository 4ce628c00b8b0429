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

// Repair plans may be many: past so many rows, a plan gives way to a cheaper one of its family.
constexpr std::size_t most_rows = 12;

bool is_repair(const OptionResult& option) {
  return option.kind == OptionKind::repair || option.kind == OptionKind::licensed_repair;
}

bool one_family(const OptionResult& a, const OptionResult& b) {
  if (!is_repair(a) || a.kind != b.kind) return false;
  return a.kind == OptionKind::licensed_repair || a.family == b.family;
}

// Neither the simulation nor the page can tell the two costs apart.
bool cost_the_same(const Weighing& w, const OptionResult& a, const OptionResult& b) {
  const double error = std::max(a.present_cost_error, b.present_cost_error);
  const bool near = std::abs(a.present_cost - b.present_cost) < error ||
                    money_text(a.present_cost, w.minor_digits) == money_text(b.present_cost, w.minor_digits);
  return near && number_text(a.price_weight) == number_text(b.price_weight);
}

struct OptionRows {
  std::vector<const OptionResult*> shown;  // cheapest first
  int same = 0;                            // left out: one that costs the same is shown
  int dearer = 0;                          // left out: a cheaper one of the family is shown
};

// Of plans of one family that cost the same, the marked one stands for all; else the one without a limit, which
// needs no resolution kept; else the cheapest.
OptionRows rows_worth_showing(const Weighing& w, const std::string& marked) {
  const auto better = [&](const OptionResult& a, const OptionResult& b) {
    if ((a.name == marked) != (b.name == marked)) return a.name == marked;
    return !a.later_visits && b.later_visits;
  };
  OptionRows rows;
  std::vector<const OptionResult*> cheapest;  // of those that the row at the same place stands for
  for (const OptionResult& option : w.options) {
    std::size_t at = 0;
    while (at < cheapest.size() &&
           !(one_family(*cheapest[at], option) && cost_the_same(w, *cheapest[at], option))) {
      ++at;
    }
    if (at == cheapest.size()) {
      cheapest.push_back(&option);
      rows.shown.push_back(&option);
      continue;
    }
    ++rows.same;
    if (better(option, *rows.shown[at])) rows.shown[at] = &option;
  }

  for (std::size_t i = rows.shown.size(); i-- > 0 && rows.shown.size() > most_rows;) {
    const OptionResult& option = *rows.shown[i];
    const bool cheaper_is_shown = std::any_of(rows.shown.begin(), rows.shown.begin() + std::ptrdiff_t(i),
                                              [&](const OptionResult* o) { return one_family(*o, option); });
    if (!cheaper_is_shown || option.name == marked) continue;
    rows.shown.erase(rows.shown.begin() + std::ptrdiff_t(i));
    ++rows.dearer;
  }
  return rows;
}

void write_left_out(Page& page, const OptionRows& rows) {
  if (rows.same == 0 && rows.dearer == 0) return;
  std::string text = "Left out: ";
  if (rows.same > 0) {
    text += count_text(rows.same, "plan that costs", "plans that cost") +
            " the same as one of the family within the error";
  }
  if (rows.dearer > 0) {
    text += (rows.same > 0 ? ", " : "") + count_text(rows.dearer, "plan", "plans") +
            " dearer than others of the family";
  }
  page.paragraph(text + "; --format json has all.", false, 2);
}

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
  page.heading(fmt::format("Options over {}{} ({})", years_text(w.horizon_years),
                           unpriced ? "" : ", cheapest first", w.currency));
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
  const OptionRows rows = rows_worth_showing(w, marked);
  for (const OptionResult* row : rows.shown) {
    const OptionResult& option = *row;
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
  write_left_out(page, rows);
  if (price_missing) page.paragraph("p: the price of the replacement, which is not known.", false, 2);
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
