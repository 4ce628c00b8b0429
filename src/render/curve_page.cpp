#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/document.hpp"
#include "render/json_support.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr int curve_rows = 15;
constexpr int axis_columns = 10;  ///< columns of the value's axis

Sums sums_of(const Curve& curve) { return {curve.currency, curve.minor_digits}; }

bool has_errors(const Curve& curve) {
  return std::any_of(curve.points.begin(), curve.points.end(),
                     [](const CurvePoint& point) { return point.error > 0; });
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

// The value against the first key, in ASCII characters, with a line at nought where it crosses that.
std::vector<std::string> plot(const Curve& curve, int width) {
  std::vector<const CurvePoint*> points;
  for (const CurvePoint& point : curve.points) {
    if (point.value) points.push_back(&point);
  }
  if (points.size() < 2) return {};
  double low = *points.front()->value, high = low;
  for (const CurvePoint* point : points) {
    low = std::min(low, *point->value);
    high = std::max(high, *point->value);
  }
  if (low == high) high = low + 1;
  const int columns = width - axis_columns - 1;
  const double from = curve.keys[0].from, to = curve.keys[0].to;
  const auto column_of = [&](double at) {
    return static_cast<std::size_t>(std::lround((at - from) / (to - from) * (columns - 1)));
  };
  const auto row_of = [&](double value) {
    return static_cast<std::size_t>(std::lround((high - value) / (high - low) * (curve_rows - 1)));
  };
  std::vector<std::string> canvas(curve_rows, std::string(static_cast<std::size_t>(columns), ' '));
  if (low < 0 && high > 0) canvas[row_of(0)].assign(static_cast<std::size_t>(columns), '-');
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const std::size_t a = column_of(points[i]->at[0]), b = column_of(points[i + 1]->at[0]);
    for (std::size_t column = std::min(a, b); column <= std::max(a, b); ++column) {
      const double part = a == b ? 0
                                 : (static_cast<double>(column) - static_cast<double>(a)) /
                                       (static_cast<double>(b) - static_cast<double>(a));
      canvas[row_of(*points[i]->value + part * (*points[i + 1]->value - *points[i]->value))][column] = '.';
    }
  }
  for (const CurvePoint* point : points)
    canvas[row_of(*point->value)][column_of(point->at[0])] = point->course == points.front()->course ? 'o' : 'x';
  std::vector<std::string> lines;
  for (int row = 0; row < curve_rows; ++row) {
    constexpr int rows_a_label = 7;
    const double value = high - (high - low) * row / (curve_rows - 1);
    const std::string label = row % rows_a_label == 0 ? money_text(value, curve.minor_digits) : "";
    lines.push_back(fmt::format("{:>{}}|{}", label, axis_columns, canvas[static_cast<std::size_t>(row)]));
    lines.back().erase(lines.back().find_last_not_of(' ') + 1);
  }
  const std::string left = value_text(from), right = value_text(to);
  lines.push_back(fmt::format("{:>{}}+{}", "", axis_columns, std::string(static_cast<std::size_t>(columns), '-')));
  lines.push_back(fmt::format("{:>{}} {}{:>{}}", "", axis_columns, left, right,
                              std::max(1, columns - static_cast<int>(left.size()))));
  lines.push_back(fmt::format("{:>{}} {}", "", axis_columns, curve.keys[0].key));
  return lines;
}

Section table_section(const Curve& curve) {
  const bool grid = curve.keys.size() > 1;
  Section section{grid ? fmt::format("{} in {}: {} downwards, {} to the right", curve.value_name,
                                     curve.currency, curve.keys[0].key, curve.keys[1].key)
                       : fmt::format("As {} varies", curve.keys[0].key)};
  if (grid) section.add(grid_table(curve));
  section.add(points_table(curve));
  const std::string& usual = curve.points.front().course;
  const bool turns = std::any_of(curve.points.begin(), curve.points.end(),
                                 [&](const CurvePoint& point) { return point.course != usual; });
  if (turns) {
    section.say(grid ? fmt::format("! another course is best than '{}', that of the first cell.", usual)
                     : "! from here on another course is best.");
  }
  return section;
}

Section plot_section(const Curve& curve) {
  Section section{fmt::format("The {} against {}, {}", curve.value_name, curve.keys[0].key, curve.currency)};
  if (curve.keys.size() > 1 || plot(curve, picture_width).empty()) return {};
  section.blocks.emplace_back(Picture{.caption = "o, x: points, x where another course is best than at the first",
                                      .drawn = [curve](int columns) { return plot(curve, columns); }});
  return section;
}

Section breaks_section(const Curve& curve) {
  Section section{"Where it breaks"};
  Table table;
  table.name = "breaks";
  table.columns = {{curve.keys[0].key + " from"}, {"to"}, {"what changes", false}};
  for (const CurveBreak& found : curve.breaks)
    table.add({value_text(found.low), value_text(found.high), found.what});
  section.add(std::move(table));
  if (curve.breaks.empty() && curve.keys.size() == 1)
    section.say("Nowhere in this range: neither the course nor the order changes.");
  return section;
}

constexpr SectionOf<Curve> curve_table[] = {
    {"curve", table_section}, {"plot", plot_section}, {"breaks", breaks_section}};

Json point_json(const CurvePoint& point) {
  Json lines = Json::array();
  for (const CurveLine& line : point.lines) {
    lines.push_back({{"candidate", line.candidate},
                     {"supplier", line.supplier},
                     {"quantity", line.quantity},
                     {"each_price", number(line.each)}});
  }
  return {{"at", point.at},
          {"course", point.course},
          {"value", number(point.value)},
          {"value_error", number(point.error)},
          {"money_now", number(point.money_now)},
          {"pieces", point.pieces},
          {"shipping", number(point.shipping)},
          {"order", std::move(lines)}};
}

Json key_json(const VariedKey& key) {
  return {{"key", key.key}, {"from", number(key.from)}, {"to", number(key.to)}, {"steps", key.steps}};
}

Json break_json(const CurveBreak& found) {
  return {{"low", number(found.low)}, {"high", number(found.high)}, {"what", found.what}};
}

}  // namespace

const std::vector<std::string>& curve_sections() {
  static const std::vector<std::string> names = section_names(curve_table);
  return names;
}

std::string curve_page(const Curve& curve, const PageStyle& style) {
  Document page = answer_document("What if: " + curve.device);
  page.sections = sections_of(curve, curve_table);
  page.closing.push_back({fmt::format("Seed {}, {} futures a point, mendworth {}.", curve.seed,
                                      grouped_text(curve.futures), version())});
  return page_of(std::move(page), style);
}

std::string curve_json(const Curve& curve) {
  const Json out = {{"schema", "mendworth.curve"},
                    {"version", 1},
                    {"program_version", version()},
                    {"command", curve.command},
                    {"source_name", curve.source_name},
                    {"device", curve.device},
                    {"currency", curve.currency},
                    {"minor_digits", curve.minor_digits},
                    {"settings", {{"seed", curve.seed}, {"futures", curve.futures}}},
                    {"value_name", curve.value_name},
                    {"keys", list(curve.keys, key_json)},
                    {"points", list(curve.points, point_json)},
                    {"breaks", list(curve.breaks, break_json)}};
  return out.text();
}

}  // namespace mendworth
