#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

// Rows that move the saving by less than this share of the widest swing, and those beyond so many, are only
// counted, unless they turn the verdict.
constexpr double swing_worth_a_row = 0.05;
constexpr int most_numbers = 15;

// How far a value is from the present one: as a share where that means something.
std::string distance_text(double current, double value) {
  if (current == 0) return fmt::format("{}{}", value > 0 ? "+" : "", number_text(value));
  const double percent = 100 * (value - current) / std::abs(current);
  if (std::abs(percent) < 0.5) return "here";
  if (std::abs(percent) > 100'000) return "far";
  return fmt::format("{}{:.0f} %", percent > 0 ? "+" : "", percent);
}

std::string joined_by_and(const std::vector<std::string>& pieces) {
  std::string text;
  for (const std::string& piece : pieces) {
    if (!text.empty()) text += " and ";
    text += piece;
  }
  return text;
}

std::string turning_text(const BreakEven& row) {
  if (row.values.empty())
    return fmt::format("none within {}..{}", number_text(row.low), number_text(row.high));
  std::vector<std::string> values;
  for (std::size_t i = 0; i < row.values.size(); ++i) values.push_back(turning_value_text(row, i));
  return joined_by_and(values);
}

std::string distances_text(const BreakEven& row) {
  std::vector<std::string> distances;
  for (const double value : row.values) distances.push_back(distance_text(row.current, value));
  return joined_by_and(distances);
}

// The break-even of the labour rate, with its interval.
std::string turning_rate_text(const Weighing& w, const OwnTime& own) {
  for (const BreakEven& row : w.break_evens) {
    if (row.key != "labour.rate_per_hour" || row.intervals.empty()) continue;
    for (std::size_t i = 0; i < row.values.size(); ++i) {
      if (row.values[i] == *own.turning_rate) return w.currency + " " + turning_value_text(row, i);
    }
  }
  return amount(w, *own.turning_rate);
}

void write_own_time(Page& page, const Weighing& w, const OwnTime& own) {
  const double error = w.verdict.saving_error;
  std::string text =
      own.rate == 0 ? fmt::format("Own time. It is counted at nothing; saving by repair in cash: {}.",
                                  estimate(w, own.saving_cash_only, error))
                    : fmt::format("Own time. Saving by repair, cash only: {}; with time at {} an hour: {}.",
                                  estimate(w, own.saving_cash_only, error), amount(w, own.rate),
                                  estimate(w, own.saving_with_time, error));
  text += own.turning_rate
              ? fmt::format(" The answer turns where an hour is worth {}.", turning_rate_text(w, own))
              : " No worth of an hour within reason turns the answer.";
  page.paragraph(text, false, 2, 2);
}

void write_payback(Page& page, const Weighing& w) {
  if (!w.payback) return;
  const Payback& payback = *w.payback;
  std::string text = "Payback. The replacement costs nothing a year, so no time of use pays off the repair.";
  if (payback.years_needed && *payback.years_needed > 0) {
    text = fmt::format("Payback. At the replacement's cost per year the repair is paid off if it lasts {}.",
                       years_text(*payback.years_needed));
  } else if (payback.years_needed) {
    text = "Payback. The repair costs nothing now, so it is paid off at once.";
  }
  text += payback.ahead_from_years
              ? fmt::format(
                    " In expectation repairing is the cheaper course from {} on.",
                    *payback.ahead_from_years > 0 ? years_text(*payback.ahead_from_years) : "the first day")
              : fmt::format(" In expectation repairing does not get ahead of replacing within {}.",
                            years_text(std::max(6.0, 2.0 * w.years_ahead)));
  page.paragraph(text, false, 2, 2);
}

void write_half_price_rule(Page& page, const Weighing& w) {
  if (!w.half_price) return;
  const HalfPriceRule& rule = *w.half_price;
  const std::string comparison =
      rule.new_price > 0
          ? fmt::format("is {} of the replacement at {}", percent(rule.ratio), amount(w, rule.new_price))
          : "stands against a replacement that costs nothing";
  page.paragraph(
      fmt::format("Half-price rule. Repair now at {} {}, so the rule says {}; this weighing {}. {}",
                  amount(w, rule.repair_cost_now), comparison, rule.says_repair ? "repair" : "replace",
                  w.verdict.confidence == Confidence::toss_up ? "calls it a toss-up"
                  : rule.agrees                               ? "agrees"
                                                              : "does not",
                  rule.reason),
      false, 2, 2);
}

}  // namespace

void break_even_section(Page& page, const Weighing& w) {
  if (w.break_evens.empty()) return;
  page.heading("Where the answer between repair and replacement turns");
  Table table({{"", Table::Align::left, true},
               {"now"},
               {"turns at", Table::Align::right, true},
               {"how far", Table::Align::right, true}});
  for (const BreakEven& row : w.break_evens) {
    table.add_row({row.label, number_text(row.current), turning_text(row), distances_text(row)});
  }
  page.table(table);
  page.paragraph(
      "Plans, purchases and rules are chosen anew at each value; in brackets where it lies, given the "
      "simulation's "
      "error.",
      false, 2);
}

void sensitivity_section(Page& page, const Weighing& w) {
  if (w.sensitivity.empty()) return;
  page.heading(fmt::format("What the saving by repair depends on ({})", w.currency));
  double largest = 0;
  for (const SensitivityRow& row : w.sensitivity) {
    largest = std::max({largest, std::abs(row.saving_low), std::abs(row.saving_high), row.swing});
  }
  Table table({{"", Table::Align::left, true},
               {"low"},
               {"base"},
               {"high"},
               {"saving\nat low"},
               {"saving\nat high"},
               {"swing"},
               {"", Table::Align::left}});
  const double least_swing = swing_worth_a_row * w.sensitivity.front().swing;
  bool turns = false;
  bool stepped = false;
  bool from_default = false;
  int listed = 0;
  int left_out = 0;
  double widest_left_out = 0;
  for (const SensitivityRow& row : w.sensitivity) {
    if (!row.turns && (row.swing < least_swing || listed >= most_numbers)) {
      ++left_out;
      widest_left_out = std::max(widest_left_out, row.swing);
      continue;
    }
    ++listed;
    turns = turns || row.turns;
    stepped = stepped || !row.uncertain;
    from_default = from_default || row.from_default;
    std::string marks;
    if (row.turns) marks += '!';
    if (!row.uncertain) marks += '%';
    if (row.from_default) marks += 'd';
    table.add_row(
        {row.label, number_text(row.low), number_text(row.base), number_text(row.high),
         cell(w, row.saving_low, largest, row.low_error), cell(w, row.saving_high, largest, row.high_error),
         // Both ends meet the same futures, so the error of their distance is at most this.
         cell(w, row.swing, largest, std::hypot(row.low_error, row.high_error)), marks},
        row.turns);
  }
  page.table(table);
  if (turns)
    page.paragraph("! the verdict between repair and replacement turns within the range", false, 2, 2);
  if (stepped) page.paragraph("% no range is known: 20 % less and 20 % more", false, 2, 2);
  if (from_default) page.paragraph("d a default", false, 2, 2);
  if (left_out > 0) {
    page.paragraph(
        fmt::format("Left out: {} that would move the saving by at most {}; --format json has them.",
                    count_text(left_out, "input", "inputs"), amount(w, widest_left_out)),
        false, 2, 2);
  }
}

void rules_section(Page& page, const Weighing& w) {
  const bool own_time = w.own_time && w.verdict.kind != VerdictKind::refer;
  if (!own_time && !w.payback && !w.half_price) return;
  page.heading("Rules of thumb");
  if (own_time) write_own_time(page, w, *w.own_time);
  write_payback(page, w);
  write_half_price_rule(page, w);
}

}  // namespace mendworth
