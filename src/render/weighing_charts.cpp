#include "render/weighing_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_bars = 6, most_swings = 10;

ChartAxis money_axis(const Weighing& w, const char* name) {
  return {.name = name, .unit = w.currency, .digits = w.minor_digits};
}

Sums written_sums(const Weighing& w) { return {w.currency, w.minor_digits}; }

// The cheapest, those that the verdict names among them.
std::vector<const OptionResult*> compared(const Weighing& w) {
  std::vector<const OptionResult*> options;
  const auto named = [&](const OptionResult& o) {
    return o.name == w.verdict.best || o.name == w.verdict.best_repair ||
           o.name == w.verdict.best_replacement;
  };
  auto others = static_cast<std::ptrdiff_t>(most_bars) - std::ranges::count_if(w.options, named);
  for (const OptionResult& option : w.options) {
    if (named(option) || others-- > 0) options.push_back(&option);
  }
  return options;
}

std::string paid_words(const Weighing& w) {
  if (!w.payback) return "";
  if (!w.payback->ahead_from_years) return " Within this time the repair does not stay ahead.";
  if (*w.payback->ahead_from_years <= 0) return " The repair is ahead from the beginning.";
  return fmt::format(" The repair has paid after {}.", years_text(*w.payback->ahead_from_years));
}

}  // namespace

Chart costs_chart(const Weighing& w) {
  Chart chart{.kind = Chart::Kind::bars,
              .name = "cost-bars",
              .title = "What each course costs, by what the money goes to"};
  const std::vector<const OptionResult*> options = compared(w);
  if (options.empty()) return chart;
  chart.x = money_axis(
      w, w.costs_are_relative ? "present cost, against replacing again and again" : "present cost");
  chart.x.reach = {0};
  chart.y.name = "course";
  chart.letters = true;
  chart.point_name = "total";
  for (const OptionResult* option : options) {
    chart.bars.push_back({.label = option->name,
                          .point = option->present_cost,
                          .note = written_sums(w).cell(option->present_cost, option->present_cost)});
  }
  for (const CostRow& row : cost_rows) {
    const auto pays = [&](const OptionResult* option) { return option->parts.*row.part != 0; };
    if (std::ranges::none_of(options, pays)) continue;
    for (std::size_t i = 0; i < options.size(); ++i) {
      const double part = options[i]->parts.*row.part;
      // What is paid goes to the right of nought, what comes back to the left.
      double end = 0;
      for (const ChartSegment& other : chart.bars[i].segments) {
        if ((other.value < 0) == (part < 0))
          end = part < 0 ? std::min(end, other.to) : std::max(end, other.to);
      }
      if (part != 0) chart.bars[i].segments.push_back({chart.series.size(), end, end + part, part});
    }
    chart.series.push_back({.name = row.label});
  }
  chart.description = "Expected, for as long as a device is needed; the diamond marks the total. ";
  chart.description += w.verdict.kind == VerdictKind::price_unknown
                           ? "The unknown price of the replacement is left out, so the totals do not compare."
                           : fmt::format("Least: {}, {}.", options.front()->name,
                                         written_sums(w).amount(options.front()->present_cost));
  return chart;
}

Chart cost_in_time_chart(const Weighing& w) {
  Chart chart{.name = "cost-in-time", .title = "Cost so far: repair against replacement"};
  if (!w.cost_in_time) return chart;
  chart.x = {.name = "time from now", .unit = "years", .reach = {0}};
  chart.y = money_axis(w, "present cost so far");
  chart.y.reach = {0};
  const auto add = [&](const char* name, const std::vector<CostInTime::Sum>& sums) {
    ChartSeries series{.name = name, .low_name = "P10", .high_name = "P90"};
    for (const CostInTime::Sum& sum : sums)
      series.points.push_back({sum.years, sum.expected, sum.p10, sum.p90});
    chart.series.push_back(std::move(series));
  };
  add("repair", w.cost_in_time->repair);
  add("replacement", w.cost_in_time->replacement);
  chart.description =
      "Expected cost of the best repair and the best replacement, devices bought later included; each band "
      "goes from what one in ten futures stays below to what nine in ten do." +
      paid_words(w);
  const double last = w.cost_in_time->repair.back().years;
  if (w.payback && w.payback->ahead_from_years && *w.payback->ahead_from_years > 0 &&
      *w.payback->ahead_from_years < last)
    chart.marks.push_back(
        {*w.payback->ahead_from_years, "has paid: " + years_text(*w.payback->ahead_from_years)});
  return chart;
}

Chart saving_chart(const Weighing& w) {
  Chart chart{.name = "saving-spread", .title = "What repairing saves, over all futures"};
  if (w.saving_bins.empty() || !w.verdict.saving) return chart;
  const Sums sums = written_sums(w);
  chart.x = money_axis(w, "saving by repair against the best replacement");
  chart.x.reach = {0};
  chart.y = {.name = "share of futures", .share = true, .reach = {0}};
  chart.legend = true;
  chart.column_width = w.saving_bins.front().high - w.saving_bins.front().low;
  const double cheaper = w.verdict.repair_cheaper_share;
  ChartSeries loses{.name = fmt::format("replacing is cheaper: {}", percent(1 - cheaper)),
                    .mark = ChartSeries::Mark::columns};
  ChartSeries saves{.name = fmt::format("repairing is cheaper: {}", percent(cheaper)),
                    .mark = ChartSeries::Mark::columns};
  double shown = 0;
  for (const SavingBin& bin : w.saving_bins) {
    (bin.low + bin.high < 0 ? loses : saves).points.push_back({bin.low, bin.share});
    shown += bin.share;
  }
  chart.series = {std::move(saves), std::move(loses)};
  chart.marks = {{0, "0", true},
                 {*w.verdict.saving,
                  "expected: " + sums.cell(*w.verdict.saving, *w.verdict.saving, w.verdict.saving_error)}};
  chart.description =
      fmt::format("Repairing is cheaper in {} of futures; eight in ten of them lie between {} and {}.",
                  percent(cheaper), sums.estimate(w.verdict.saving_p10, w.verdict.saving_error),
                  sums.estimate(w.verdict.saving_p90, w.verdict.saving_error));
  if (shown < 1 - 1e-9)
    chart.description += fmt::format(" {} of futures lie beyond the picture.", percent(1 - shown));
  return chart;
}

bool hardly_matters(const Weighing& w, const SensitivityRow& row) {
  constexpr double share = 0.05;
  return row.swing < share * w.sensitivity.front().swing;
}

Chart swings_chart(const Weighing& w) {
  Chart chart{.kind = Chart::Kind::bars, .name = "swings", .title = "How far each number moves the saving"};
  if (w.sensitivity.empty() || !w.verdict.saving) return chart;
  const Sums sums = written_sums(w);
  const double base = *w.verdict.saving;
  chart.x = money_axis(w, "saving by repair");
  chart.y.name = "number";
  chart.series = {{.name = "at its low end"}, {.name = "at its high end"}};
  chart.marks = {{0, "0", true}, {base, "as it is: " + sums.cell(base, base, w.verdict.saving_error)}};
  for (const SensitivityRow& row : w.sensitivity) {
    if (!row.turns && (chart.bars.size() >= most_swings || hardly_matters(w, row))) continue;
    ChartBar bar{.label = row.label + (row.turns ? ": turns the answer" : "")};
    ChartSegment low{0, base, row.saving_low, row.saving_low, number_text(row.low)};
    ChartSegment high{1, base, row.saving_high, row.saving_high, number_text(row.high)};
    // Where both ends lie on one side, the nearer one is drawn over the farther one, whose end is named.
    if ((low.to - base) * (high.to - base) > 0) {
      (std::abs(low.to - base) < std::abs(high.to - base) ? low : high).label.clear();
    }
    const bool low_first = std::abs(low.to - base) >= std::abs(high.to - base);
    bar.segments = low_first ? std::vector{low, high} : std::vector{high, low};
    chart.bars.push_back(std::move(bar));
  }
  chart.description =
      "The saving with one number at either end of what it may be, all else as it is; where no range is "
      "known, 20 % less and 20 % more. At the ends of the bars stand the number's values.";
  return chart;
}

// Who can tell it; some of it nobody can yet.
std::string told_by(FoundOut who) {
  switch (who) {
    case FoundOut::owner: return ": the owner can tell";
    case FoundOut::look: return ": a look inside tells";
    case FoundOut::asking: return ": asking tells";
    case FoundOut::record: return ": only a shop's record tells";
    case FoundOut::nobody: break;
  }
  return ": nobody can tell yet";
}

Chart knowing_chart(const Weighing& w) {
  Chart chart{.kind = Chart::Kind::bars,
              .name = "knowing-worth",
              .title = "What it is worth to find out, before anything is ordered"};
  if (!w.knowing) return chart;
  const Sums sums = written_sums(w);
  chart.x = money_axis(w, "expected saving by knowing it");
  chart.x.reach = {0};
  chart.y.name = "number";
  chart.series = {{.name = "worth"}};
  for (const KnowingRow& row : w.knowing->inputs) {
    if (row.is_worth_something() && chart.bars.size() < most_swings)
      chart.bars.push_back({.label = row.label + told_by(row.found_out),
                            .segments = {{0, 0, row.worth, row.worth}},
                            .note = sums.cell(row.worth, row.worth, row.worth_error)});
  }
  chart.description =
      "Expected value of perfect information: by how much the expected cost falls if the number is known "
      "first.";
  return chart;
}

Chart grid_chart(const Weighing& w) {
  Chart chart{
      .kind = Chart::Kind::grid, .name = "saving-grid", .title = "What repairing saves, over two numbers"};
  if (!w.grid) return chart;
  chart.x = {.name = w.grid->across.label, .whole = true, .reach = w.grid->across.values};
  chart.y = {.name = w.grid->down.label, .whole = true, .reach = w.grid->down.values};
  std::ranges::reverse(chart.y.reach);  // the highest on top, as in the table
  chart.cell_name = "saving by repair (" + w.currency + ")";
  for (auto row = w.grid->rows.rbegin(); row != w.grid->rows.rend(); ++row) {
    chart.cells.emplace_back();
    for (const SavingGrid::Point& point : *row) chart.cells.back().push_back(point.saving);
  }
  chart.series = {{.name = "+ repairing is cheaper"}, {.name = "- replacing is cheaper"}};
  chart.description = fmt::format(
      "The expected saving by repair ({}) with both numbers changed, all else as it is.", w.currency);
  return chart;
}

Chart survival_chart(const MateSurvival& mates) {
  Chart chart{.name = "survival " + mates.part,
              .title = "How the working originals go on: " + part_text(mates.part, mates.position)};
  chart.x = {.name = "time from now", .unit = "years"};
  chart.y = {.name = "still working, of those that work now", .share = true, .reach = {0, 1}};
  ChartSeries before{.name = "before the evidence"}, after{.name = "after it"};
  for (const MateSurvival::Point& point : mates.points) {
    before.points.push_back({point.years, point.before});
    after.points.push_back({point.years, point.after});
  }
  chart.description = fmt::format(
      "What is known of such parts before and after what this device's own parts have told. After {}: {} "
      "before, {} after.",
      years_text(mates.points.back().years), percent(mates.points.back().before),
      percent(mates.points.back().after));
  chart.series = {std::move(after), std::move(before)};
  return chart;
}

}  // namespace mendworth
