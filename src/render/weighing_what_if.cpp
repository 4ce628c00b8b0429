#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"
#include "render/weighing_charts.hpp"

namespace mendworth {

namespace {

constexpr std::size_t fewest_rows = 2;  ///< of each short table, where there is no room for more
constexpr int most_numbers = 15;

std::string without_interval(std::string turning) {
  turning.erase(std::min(turning.find(" ("), turning.size()));
  return turning;
}

// How far a value is from the present one: as a share where that means something.
std::string distance_text(const BreakEven& row, std::size_t which) {
  const double current = row.current, value = row.values[which];
  if (current == 0) return (value > 0 ? "+" : "") + without_interval(turning_value_text(row, which));
  const double percent = 100 * (value - current) / std::abs(current);
  if (std::abs(percent) < 0.5) return "here";
  if (std::abs(percent) > 100'000) return "far";
  return fmt::format("{}{:.0f} %", percent > 0 ? "+" : "", percent);
}

std::string turning_text(const BreakEven& row, bool intervals) {
  if (row.values.empty())
    return fmt::format("none within {}..{}", number_text(row.low), number_text(row.high));
  std::vector<std::string> values;
  for (std::size_t i = 0; i < row.values.size(); ++i) {
    const std::string value = turning_value_text(row, i);
    values.push_back(intervals ? value : without_interval(value));
  }
  return listed(values);
}

std::string distances_text(const BreakEven& row) {
  std::vector<std::string> distances;
  for (std::size_t i = 0; i < row.values.size(); ++i) distances.push_back(distance_text(row, i));
  return listed(distances);
}

// The break-even of the labour rate, with its interval.
std::string turning_rate_text(const Weighing& w, const OwnTime& own) {
  for (const BreakEven& row : w.break_evens) {
    if (row.key != "labour.rate_per_hour" || row.intervals.empty()) continue;
    for (std::size_t i = 0; i < row.values.size(); ++i) {
      if (row.values[i] == *own.turning_rate) return w.currency + " " + turning_value_text(row, i);
    }
  }
  return Sums(w.currency, w.minor_digits).amount(*own.turning_rate);
}

std::string own_time_words(const Weighing& w, const OwnTime& own) {
  const Sums sums(w.currency, w.minor_digits);
  const double error = w.verdict.saving_error;
  std::string text = own.rate == 0
                         ? fmt::format("It is counted at nothing; saving by repair in cash: {}.",
                                       sums.estimate(own.saving_cash_only, error))
                         : fmt::format("Saving by repair, cash only: {}; with time at {} an hour: {}.",
                                       sums.estimate(own.saving_cash_only, error), sums.amount(own.rate),
                                       sums.estimate(own.saving_with_time, error));
  return text + (own.turning_rate
                     ? fmt::format(" The answer turns where an hour is worth {}.", turning_rate_text(w, own))
                     : " No worth of an hour within reason turns the answer.");
}

std::string payback_words(const Weighing& w, const Payback& payback) {
  std::string text = "The replacement costs nothing a year, so no time of use pays off the repair.";
  if (payback.years_needed && *payback.years_needed > 0) {
    text = fmt::format("At the replacement's cost per year the repair is paid off if it lasts {}.",
                       years_text(*payback.years_needed));
  } else if (payback.years_needed) {
    text = "The repair costs nothing now, so it is paid off at once.";
  }
  return text + (payback.ahead_from_years
                     ? fmt::format(" In expectation repairing is the cheaper course from {} on.",
                                   *payback.ahead_from_years > 0 ? years_text(*payback.ahead_from_years)
                                                                 : "the first day")
                     : fmt::format(" In expectation repairing does not stay ahead of replacing within {}.",
                                   years_text(std::max(6.0, 2.0 * w.years_ahead))));
}

std::string half_price_words(const Weighing& w, const HalfPriceRule& rule) {
  const Sums sums(w.currency, w.minor_digits);
  const std::string comparison =
      rule.new_price > 0
          ? fmt::format("is {} of the replacement at {}", percent(rule.ratio), sums.amount(rule.new_price))
          : "stands against a replacement that costs nothing";
  return fmt::format("Repair now at {} {}, so the rule says {}; this weighing {}. {}",
                     sums.amount(rule.repair_cost_now), comparison, rule.says_repair ? "repair" : "replace",
                     w.verdict.confidence == Confidence::toss_up ? "calls it a toss-up"
                     : rule.agrees                               ? "agrees"
                                                                 : "does not",
                     rule.reason);
}

// The nearest turning value, as a share of the present one. From nought every value is infinitely far by that; it counts
// as far as nought is from any value, 1, and on by its share of the range searched.
double nearness(const BreakEven& row) {
  const bool from_nought = row.current == 0;
  const double scale = from_nought ? row.high - row.low : std::abs(row.current);
  double nearest = std::numeric_limits<double>::infinity();
  for (const double value : row.values) nearest = std::min(nearest, std::abs(value - row.current) / scale);
  return from_nought ? 1 + nearest : nearest;
}

Table break_even_table(const char* name) {
  Table table{.columns = {{"number", false}, {"now"}, {"turns at"}, {"how far"}}, .name = name};
  return table;
}

void add_break_even(Table& table, const BreakEven& row, bool intervals) {
  table.add({row.label, number_text(row.current), turning_text(row, intervals), distances_text(row)});
}

const char* swing_mark(const SensitivityRow& row) { return row.turns ? "!" : ""; }

}  // namespace

std::string turning_value_text(const BreakEven& row, std::size_t which) {
  const double value = row.values[which];
  if (which >= row.intervals.size()) return number_text(value);
  return interval_text(value, row.intervals[which].low, row.intervals[which].high);
}

Section break_even_section(const Weighing& w) {
  Section section{"Where the answer between repair and replacement turns"};
  Table table = break_even_table("break-even");
  for (const BreakEven& row : w.break_evens) add_break_even(table, row, true);
  section.add(std::move(table));
  if (section.empty()) return section;
  section.say(
      "Plans, purchases and rules are chosen anew at each value; in brackets where it lies, given the "
      "simulation's error.");
  return section;
}

Section short_break_evens(const Weighing& w, std::size_t most) {
  Section section{"Where the answer turns, the nearest first"};
  std::vector<const BreakEven*> rows;
  for (const BreakEven& row : w.break_evens) {
    if (!row.values.empty()) rows.push_back(&row);
  }
  std::ranges::stable_sort(
      rows, [](const BreakEven* a, const BreakEven* b) { return nearness(*a) < nearness(*b); });
  rows.resize(std::min(rows.size(), most));
  Table table = break_even_table("break-even-short");
  table.fewest = fewest_rows;
  for (const BreakEven* row : rows) add_break_even(table, *row, false);
  section.add(std::move(table));
  if (section.empty() && !w.break_evens.empty())
    section.say("No single number turns it, whatever it is within its range.");
  if (section.empty() && w.sensitivity.empty())
    return {
        "",
        {Paragraph{"No break-evens and no sensitivity: they need a repair and a replacement with a price."}}};
  return section;
}

Section sensitivity_section(const Weighing& w) {
  Section section{fmt::format("What the saving by repair depends on ({})", w.currency)};
  if (w.sensitivity.empty()) return section;
  double largest = 0;
  for (const SensitivityRow& row : w.sensitivity)
    largest = std::max({largest, std::abs(row.saving_low), std::abs(row.saving_high), row.swing});
  const Sums sums(w.currency, w.minor_digits);
  Table table{
      .columns =
          {{"number", false}, {"low"}, {"base"}, {"high"}, {"saving at low"}, {"saving at high"}, {"swing"}},
      .name = "sensitivity"};
  int left_out = 0;
  double widest_left_out = 0;
  bool turns = false, stepped = false, from_default = false;
  for (const SensitivityRow& row : w.sensitivity) {
    if (!row.turns && (hardly_matters(w, row) || static_cast<int>(table.rows.size()) >= most_numbers)) {
      ++left_out;
      widest_left_out = std::max(widest_left_out, row.swing);
      continue;
    }
    turns = turns || row.turns;
    stepped = stepped || !row.uncertain;
    from_default = from_default || row.from_default;
    const std::string marks =
        fmt::format("{}{}{}", swing_mark(row), row.uncertain ? "" : "%", row.from_default ? "d" : "");
    table.add({row.label, number_text(row.low), number_text(row.base), number_text(row.high),
               sums.cell(row.saving_low, largest, row.low_error),
               sums.cell(row.saving_high, largest, row.high_error),
               // Both ends meet the same futures, so the error of their distance is at most this.
               sums.cell(row.swing, largest, std::hypot(row.low_error, row.high_error))},
              row.turns ? Table::Role::best : Table::Role::plain, marks);
  }
  section.add(swings_chart(w));
  section.add(std::move(table));
  if (turns) section.say("! the verdict between repair and replacement turns within the range");
  if (stepped) section.say("% no range is known: 20 % less and 20 % more");
  if (from_default) section.say("d a default");
  if (left_out > 0) {
    section.say(fmt::format("Left out: {} that would move the saving by at most {}; --format json has them.",
                            count_text(left_out, "input", "inputs"), sums.amount(widest_left_out)));
  }
  return section;
}

Section short_sensitivity(const Weighing& w, std::size_t most) {
  Section section{fmt::format("What the saving depends on most ({}; ! turns the answer)", w.currency)};
  Table table{.columns = {{"number", false},
                          {"from"},
                          {"to"},
                          {"saving from"},
                          {"saving to"},
                          {.heading = "swing", .spare = true}},
              .name = "sensitivity-short"};
  const Sums sums(w.currency, w.minor_digits);
  table.fewest = fewest_rows;
  for (const SensitivityRow& row : w.sensitivity) {
    if (table.rows.size() >= most) break;
    table.add({row.label, number_text(row.low), number_text(row.high),
               sums.cell(row.saving_low, row.saving_low, row.low_error),
               sums.cell(row.saving_high, row.saving_high, row.high_error),
               sums.cell(row.swing, row.swing, std::hypot(row.low_error, row.high_error))},
              Table::Role::plain, swing_mark(row));
  }
  section.add(std::move(table));
  if (const std::string first = find_out_first(w); !first.empty()) section.say(first);
  return section;
}

Section rules_section(const Weighing& w) {
  Section section{"Rules of thumb"};
  Facts rules;
  if (w.own_time && w.verdict.kind != VerdictKind::refer)
    rules.add("Own time", own_time_words(w, *w.own_time));
  if (w.payback) rules.add("Payback", payback_words(w, *w.payback));
  if (w.half_price) rules.add("Half-price rule", half_price_words(w, *w.half_price));
  if (!rules.facts.empty()) section.blocks.emplace_back(rules);
  return section;
}

}  // namespace mendworth
