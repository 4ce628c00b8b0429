#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/document.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

Sums sums_of(const Curve& curve) { return {curve.currency, curve.minor_digits}; }

bool has_errors(const Curve& curve) {
  return std::ranges::any_of(curve.points, [](const CurvePoint& point) { return point.error > 0; });
}

// As it is set, so that it can be copied.
std::string value_text(double value) { return fmt::format("{}", value == 0 ? 0.0 : value); }

Table points_table(const Curve& curve) {
  const Sums sums = sums_of(curve);
  const bool errors = has_errors(curve);
  Table table;
  table.name = "curve";
  for (const VariedKey& key : curve.keys) table.columns.push_back({key.key});
  table.columns.insert(table.columns.end(),
                       {{"best", false}, {fmt::format("{} {}", curve.value_name, curve.currency)}});
  if (errors) table.columns.push_back({"+/-"});
  table.columns.insert(table.columns.end(), {{"money now"}, {"pieces"}});
  const CurvePoint* before = nullptr;
  for (const CurvePoint& point : curve.points) {
    std::vector<std::string> cells;
    for (const double at : point.at) cells.push_back(value_text(at));
    cells.push_back(point.course);
    cells.push_back(point.value ? sums.cell(*point.value, 0, point.error) : "-");
    if (errors) cells.push_back(error_text(point.error, curve.minor_digits));
    cells.push_back(sums.cell(point.money_now));
    cells.push_back(fmt::format("{}", point.pieces));
    const bool turned = before != nullptr && curve.keys.size() == 1 && before->course != point.course;
    table.add(std::move(cells), turned ? Table::Role::best : Table::Role::plain, turned ? "!" : "");
    before = &point;
  }
  return table;
}

// Two keys: the first downwards, the second to the right. A cell that another course wins says so.
Table grid_table(const Curve& curve) {
  const Sums sums = sums_of(curve);
  Table table;
  table.name = "grid";
  table.columns.push_back({curve.keys[0].key});
  const std::vector<double> across = curve.keys[1].values();
  for (const double value : across) table.columns.push_back({value_text(value)});
  const std::string& usual = curve.points.front().course;
  for (std::size_t i = 0; i < curve.points.size(); i += across.size()) {
    std::vector<std::string> cells{value_text(curve.points[i].at[0])};
    for (std::size_t k = i; k < i + across.size(); ++k) {
      const CurvePoint& point = curve.points[k];
      const std::string text = point.value ? sums.cell(*point.value, 0, point.error) : "-";
      cells.push_back((point.course == usual ? "" : "!") + text);
    }
    table.add(std::move(cells));
  }
  return table;
}

const std::string& words_for(const VariedKey& key) { return key.label.empty() ? key.key : key.label; }

// With all digits that one writes, and no zeros after them.
ChartAxis axis_of(const VariedKey& key) { return {.name = words_for(key), .digits = 9}; }

// Which course is best where.
std::string courses_text(const Curve& curve) {
  std::vector<std::string> spans;
  if (curve.keys.size() > 1) {
    std::vector<std::string> courses;
    for (const CurvePoint& point : curve.points) {
      if (std::ranges::find(courses, point.course) == courses.end()) courses.push_back(point.course);
    }
    for (const std::string& course : courses)
      spans.push_back(fmt::format("'{}', {} of {}", course,
                                  std::ranges::count(curve.points, course, &CurvePoint::course),
                                  curve.points.size()));
    return fmt::format("Best at the values tried: {}.", fmt::join(spans, "; "));
  }
  for (auto from = curve.points.begin(); from != curve.points.end();) {
    const auto next = std::find_if(from, curve.points.end(),
                                   [&](const CurvePoint& point) { return point.course != from->course; });
    const std::string first = value_text(from->at[0]), last = value_text((next - 1)->at[0]);
    spans.push_back(fmt::format(
        "{}: '{}'", first == last ? "at " + first : fmt::format("from {} to {}", first, last), from->course));
    from = next;
  }
  return fmt::format("Best {}.", fmt::join(spans, "; "));
}

std::string varied_text(const Curve& curve) {
  std::vector<std::string> keys;
  for (const VariedKey& key : curve.keys)
    keys.push_back(fmt::format("{} from {} to {}", words_for(key), value_text(key.from), value_text(key.to)));
  return fmt::format("Varied: {}.", fmt::join(keys, "; "));
}

// "price break", "the verdict turns"; the table has all of it.
std::string short_words(const std::string& what) { return what.substr(0, what.find(':')); }

void add_marks(Chart& chart, const Curve& curve) {
  for (const CurveBreak& found : curve.breaks)
    chart.marks.push_back({.x = found.high, .label = short_words(found.what)});
}

// The value against one key, or over two.
Chart value_chart(const Curve& curve) {
  Chart chart{.name = "curve-chart", .title = "The " + curve.value_name};
  chart.x = axis_of(curve.keys[0]);
  chart.y = {.name = curve.value_name, .unit = curve.currency, .digits = curve.minor_digits};
  if (curve.keys.size() > 1) {
    chart.kind = Chart::Kind::grid;
    chart.x = axis_of(curve.keys[1]);
    chart.y = axis_of(curve.keys[0]);
    chart.x.reach = curve.keys[1].values();
    chart.y.reach = curve.keys[0].values();
    chart.cell_name = curve.value_name;
    chart.description = fmt::format("The {} ({}) with both numbers changed, all else as the case has it.",
                                    curve.value_name, curve.currency);
    if (curve.value_name == "saving")
      chart.series = {{.name = "+ repairing is cheaper"}, {.name = "- replacing is cheaper"}};
    const std::size_t across = chart.x.reach.size();
    for (std::size_t i = 0; i < curve.points.size(); ++i) {
      if (!curve.points[i].value) return {};
      if (i % across == 0) chart.cells.emplace_back();
      chart.cells.back().push_back(*curve.points[i].value);
    }
    return chart;
  }
  ChartSeries series{.name = curve.value_name, .mark = ChartSeries::Mark::dotted};
  chart.description =
      "All else as the case has it; a dotted line is where something else is best from there on.";
  if (has_errors(curve)) {
    chart.description += " The band goes two standard errors either way.";
    series.low_name = "less two errors";
    series.high_name = "plus two errors";
  }
  for (const CurvePoint& point : curve.points) {
    if (!point.value) continue;
    ChartPoint drawn{.x = point.at[0], .y = *point.value};
    if (has_errors(curve)) {
      drawn.low = *point.value - 2 * point.error;
      drawn.high = *point.value + 2 * point.error;
    }
    series.points.push_back(drawn);
  }
  chart.series.push_back(std::move(series));
  add_marks(chart, curve);
  return chart;
}

// What the best order has, and what is paid now.
Chart dotted_chart(const Curve& curve, Chart chart, ChartAxis of, double (*value)(const CurvePoint&)) {
  chart.x = axis_of(curve.keys[0]);
  ChartSeries series{.name = of.name, .mark = ChartSeries::Mark::dotted};
  for (const CurvePoint& point : curve.points) series.points.push_back({.x = point.at[0], .y = value(point)});
  chart.y = std::move(of);
  chart.series.push_back(std::move(series));
  add_marks(chart, curve);
  return chart;
}

Chart pieces_chart(const Curve& curve) {
  return dotted_chart(curve,
                      {.name = "pieces-chart",
                       .title = "The best quantity",
                       .description = "How many pieces the best order has."},
                      {.name = "pieces", .whole = true},
                      [](const CurvePoint& point) { return static_cast<double>(point.pieces); });
}

Chart money_chart(const Curve& curve) {
  return dotted_chart(curve,
                      {.name = "money-chart",
                       .title = "The money now",
                       .description = "What the best course costs at once, own time not counted."},
                      {.name = "money now", .unit = curve.currency, .digits = curve.minor_digits},
                      [](const CurvePoint& point) { return point.money_now; });
}

Section table_section(const Curve& curve) {
  const bool grid = curve.keys.size() > 1;
  Section section{grid ? fmt::format("{} in {}: {} downwards, {} to the right", curve.value_name,
                                     curve.currency, curve.keys[0].key, curve.keys[1].key)
                       : fmt::format("As {} varies", curve.keys[0].key)};
  if (grid) section.add(grid_table(curve));
  section.add(points_table(curve));
  const std::string& usual = curve.points.front().course;
  const bool turns =
      std::ranges::any_of(curve.points, [&](const CurvePoint& point) { return point.course != usual; });
  if (turns) {
    section.say(grid ? fmt::format("! another course is best than '{}', that of the first cell.", usual)
                     : "! from here on another course is best.");
  }
  return section;
}

Section plot_section(const Curve& curve) {
  Section section{fmt::format("The {} against {}", curve.value_name, curve.keys[0].key)};
  section.add(value_chart(curve));
  if (curve.keys.size() == 1) {
    section.add(money_chart(curve));
    section.add(pieces_chart(curve));
  }
  if (section.empty()) return {};
  return section;
}

Section breaks_section(const Curve& curve) {
  Section section{"Where it breaks"};
  Table table{.columns = {{curve.keys[0].key + " from"}, {"to"}, {"what changes", false}}, .name = "breaks"};
  for (const CurveBreak& found : curve.breaks)
    table.add({value_text(found.low), value_text(found.high), found.what});
  section.add(std::move(table));
  if (curve.breaks.empty() && curve.keys.size() == 1)
    section.say("Nowhere in this range: neither the course nor the order changes.");
  return section;
}

constexpr SectionOf<Curve> curve_table[] = {
    {"curve", table_section}, {"plot", plot_section}, {"breaks", breaks_section}};

}  // namespace

const std::vector<std::string>& curve_sections() { return section_names<curve_table>(); }

std::string curve_page(const Curve& curve, const PageStyle& style) {
  Document page = answer_document("What if: " + curve.device);
  page.opening = {Paragraph{courses_text(curve), true}, Paragraph{varied_text(curve)}};
  page.sections = sections_of(curve, curve_table);
  page.report = {{"As it varies", {"curve", "plot", "breaks"}}};
  const std::string futures = curve.futures == 0 ? "as many futures a point as it takes"
                                                 : fmt::format("{} futures a point", curve.futures);
  page.closing.push_back({fmt::format("Seed {}, {}, mendworth {}.", curve.seed, futures, version())});
  return page_of(std::move(page), style);
}

}  // namespace mendworth
