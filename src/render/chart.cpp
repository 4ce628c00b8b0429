#include "render/chart.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "render/chart_scale.hpp"
#include "render/document.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_rows = 60;

std::string heading(const ChartAxis& axis) {
  return axis.unit.empty() ? axis.name : fmt::format("{} ({})", axis.name, axis.unit);
}

std::string value_text(const ChartAxis& axis, double value) {
  if (axis.share) return percent_text(value);
  if (axis.scale != ChartAxis::Scale::linear) return life_text(value);
  constexpr int most_of_money = 6;
  if (axis.whole) return decimals_text(value, 2);
  return axis.digits > most_of_money ? decimals_text(value, axis.digits) : money_text(value, axis.digits);
}
std::string value_text(const ChartAxis& axis, const std::optional<double>& value) {
  return value ? value_text(axis, *value) : "-";
}

bool same_places(const Chart& chart) {
  const auto& first = chart.series.front().points;
  return std::ranges::all_of(chart.series, [&](const ChartSeries& series) {
    return std::equal(series.points.begin(), series.points.end(), first.begin(), first.end(),
                      [](const ChartPoint& a, const ChartPoint& b) { return a.x == b.x; });
  });
}

// Evenly chosen where there are too many, the first and the last among them.
std::vector<std::size_t> shown_of(std::size_t count) {
  std::vector<std::size_t> shown;
  const std::size_t rows = std::min(count, most_rows);
  for (std::size_t i = 0; i < rows; ++i) shown.push_back(rows < 2 ? 0 : i * (count - 1) / (rows - 1));
  return shown;
}

// One column for each series: they are known at the same places.
void add_side_by_side(Table& table, const Chart& chart) {
  table.columns = {{heading(chart.x)}};
  for (const ChartSeries& series : chart.series) {
    table.columns.push_back({series.name});
    if (series.low_name.empty()) continue;
    table.columns.push_back({series.low_name});
    table.columns.push_back({series.high_name});
  }
  for (const std::size_t i : shown_of(chart.series.front().points.size())) {
    std::vector<std::string> cells{value_text(chart.x, chart.series.front().points[i].x)};
    for (const ChartSeries& series : chart.series) {
      cells.push_back(value_text(chart.y, series.points[i].y));
      if (series.low_name.empty()) continue;
      cells.push_back(value_text(chart.y, series.points[i].low));
      cells.push_back(value_text(chart.y, series.points[i].high));
    }
    table.add(std::move(cells));
  }
}

// A histogram: its columns in the order of x, whichever series each is of.
void add_columns(Table& table, const Chart& chart) {
  table.columns = {{heading(chart.x) + ", from"}, {"up to"}, {heading(chart.y)}};
  std::vector<ChartPoint> columns;
  for (const ChartSeries& series : chart.series)
    columns.insert(columns.end(), series.points.begin(), series.points.end());
  std::ranges::sort(columns, {}, &ChartPoint::x);
  for (const ChartPoint& column : columns)
    table.add({value_text(chart.x, column.x), value_text(chart.x, column.x + chart.column_width),
               value_text(chart.y, column.y)});
}

void add_below_each_other(Table& table, const Chart& chart) {
  const auto limited =
      std::ranges::find_if(chart.series, [](const ChartSeries& s) { return !s.low_name.empty(); });
  table.columns = {{"series", false}, {heading(chart.x)}, {heading(chart.y)}};
  if (limited != chart.series.end())
    table.columns.insert(table.columns.end(), {{limited->low_name}, {limited->high_name}});
  for (const ChartSeries& series : chart.series) {
    for (const std::size_t i : shown_of(series.points.size())) {
      const ChartPoint& point = series.points[i];
      std::vector<std::string> cells{series.name, value_text(chart.x, point.x), value_text(chart.y, point.y)};
      if (limited != chart.series.end())
        cells.insert(cells.end(), {value_text(chart.y, point.low), value_text(chart.y, point.high)});
      table.add(std::move(cells));
    }
  }
}

std::string part_of(const Chart& chart, const ChartBar& bar, std::size_t series) {
  const auto part = std::ranges::find(bar.segments, series, &ChartSegment::series);
  return part == bar.segments.end() ? "-" : value_text(chart.x, part->value);
}

void add_bars(Table& table, const Chart& chart) {
  table.columns = {{chart.y.name, false}};
  const bool one = chart.series.size() < 2;
  for (const ChartSeries& series : chart.series)
    table.columns.push_back({one ? heading(chart.x) : series.name});
  if (!chart.point_name.empty()) table.columns.push_back({chart.point_name});
  for (const ChartBar& bar : chart.bars) {
    std::vector<std::string> cells{bar.label};
    for (std::size_t i = 0; i < chart.series.size(); ++i) cells.push_back(part_of(chart, bar, i));
    if (!chart.point_name.empty()) cells.push_back(value_text(chart.x, bar.point));
    table.add(std::move(cells));
  }
}

// Parts are many and bars few.
void add_parts(Table& table, const Chart& chart) {
  table.columns = {{heading(chart.x), false}};
  std::vector<std::string> totals{chart.point_name};
  for (const ChartBar& bar : chart.bars) {
    table.columns.push_back({bar.label});
    totals.push_back(value_text(chart.x, bar.point));
  }
  for (std::size_t i = 0; i < chart.series.size(); ++i) {
    std::vector<std::string> cells{chart.series[i].name};
    for (const ChartBar& bar : chart.bars) cells.push_back(part_of(chart, bar, i));
    table.add(std::move(cells));
  }
  table.add(std::move(totals), Table::Role::total);
}

void add_cells(Table& table, const Chart& chart) {
  table.columns = {{fmt::format("{} below, {} across", heading(chart.y), heading(chart.x))}};
  for (const double x : chart.x.reach) table.columns.push_back({value_text(chart.x, x)});
  for (std::size_t r = 0; r < chart.cells.size(); ++r) {
    std::vector<std::string> cells{value_text(chart.y, chart.y.reach[r])};
    for (const double cell : chart.cells[r]) cells.push_back(money_text(cell, 2));
    table.add(std::move(cells));
  }
}

}  // namespace

bool Chart::empty() const {
  switch (kind) {
    case Kind::curves:
      return std::ranges::all_of(series,
                                 [](const ChartSeries& s) { return s.points.empty() && s.fit.empty(); });
    case Kind::bars: return bars.empty();
    case Kind::grid: break;
  }
  return cells.empty();
}

Table chart_numbers(const Chart& chart) {
  Table table;
  table.name = chart.name;
  if (chart.empty()) return table;
  switch (chart.kind) {
    case Chart::Kind::curves:
      if (chart.column_width > 0) {
        add_columns(table, chart);
      } else if (same_places(chart)) {
        add_side_by_side(table, chart);
      } else {
        add_below_each_other(table, chart);
      }
      break;
    case Chart::Kind::bars: chart.letters ? add_parts(table, chart) : add_bars(table, chart); break;
    case Chart::Kind::grid: add_cells(table, chart); break;
  }
  return table;
}

}  // namespace mendworth
