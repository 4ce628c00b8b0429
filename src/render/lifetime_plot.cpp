#include "render/lifetime_plot.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "numeric/weibull.hpp"
#include "render/layout.hpp"
#include "render/lifetime_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr int plot_rows = 17;  ///< rows from 100 % down to 0 %
constexpr int rows_per_label = 4;
constexpr int margin = 7;  ///< columns of "100 % |"
constexpr double most_ticks = 6;

constexpr char fit_mark = '*';
constexpr char curve_mark = '#';
constexpr char both_mark = '@';
constexpr char limit_mark = '.';

struct Ticks {
  double step = 1;
  int count = 1;
};

/// Steps of 1, 2 or 5 times a power of ten, as many as reach `end`.
Ticks ticks_up_to(double end) {
  const double power = std::pow(10.0, std::floor(std::log10(end / most_ticks)));
  double step = power;
  for (const double factor : {1.0, 2.0, 5.0, 10.0}) {
    step = factor * power;
    if (end <= most_ticks * step) break;
  }
  return {step, std::max(1, static_cast<int>(std::ceil(end / step * (1 - 1e-9))))};
}

/// Beyond the last failure there is room for the law to go on, but it must not squeeze what was seen.
double last_age(const GroupLifetime& group) {
  const double seen = group.curve.steps.empty() ? 0 : group.curve.steps.back().time;
  if (!group.fit) return seen;
  const double median = group.fit->median.value;
  if (seen <= 0) return 2 * median;
  return std::max(1.05 * seen, std::min(1.2 * median, 3 * seen));
}

class Canvas {
 public:
  explicit Canvas(int columns)
      : columns_(columns), rows_(plot_rows, std::string(static_cast<std::size_t>(columns), ' ')) {}

  static int row_of(double share) {
    return static_cast<int>(std::lround((1 - std::clamp(share, 0.0, 1.0)) * (plot_rows - 1)));
  }
  char& at(int row, int column) {
    return rows_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
  }

  std::vector<std::string> with_share_axis() const {
    std::vector<std::string> lines;
    for (int row = 0; row < plot_rows; ++row) {
      const bool labelled = row % rows_per_label == 0;
      const int percent = 100 - 100 * row / (plot_rows - 1);
      std::string line = labelled ? fmt::format("{:>3} % +", percent) : std::string(margin - 1, ' ') + '|';
      line += rows_[static_cast<std::size_t>(row)];
      line.erase(line.find_last_not_of(' ') + 1);
      lines.push_back(line);
    }
    lines.back().resize(static_cast<std::size_t>(margin + columns_), ' ');
    for (std::size_t i = margin; i < lines.back().size(); ++i) {
      if (lines.back()[i] == ' ') lines.back()[i] = '-';
    }
    return lines;
  }

 private:
  int columns_;
  std::vector<std::string> rows_;
};

void draw_curve(Canvas& canvas, const SurvivalCurve& curve, int columns, double step) {
  int row_before = 0;
  std::size_t next = 0;
  for (int column = 0; column < columns; ++column) {
    const double age = step * column;
    while (next < curve.steps.size() && curve.steps[next].time <= age) ++next;
    const SurvivalStep* now = next > 0 ? &curve.steps[next - 1] : nullptr;
    const int row = Canvas::row_of(now != nullptr ? now->working : 1.0);
    if (now != nullptr && !curve.by_intervals && (now->low > 0 || now->high < 1)) {
      canvas.at(Canvas::row_of(now->low), column) = limit_mark;
      canvas.at(Canvas::row_of(now->high), column) = limit_mark;
    }
    for (int drawn = std::min(row_before + 1, row); drawn <= row; ++drawn)
      canvas.at(drawn, column) = curve_mark;
    row_before = row;
    if (next == curve.steps.size()) return;  // what is known ends with the last failure
  }
}

void draw_fit(Canvas& canvas, const WeibullFit& fit, int columns, double step) {
  for (int column = 0; column < columns; ++column) {
    const double share = survival({fit.scale.value, fit.shape.value}, step * column);
    char& mark = canvas.at(Canvas::row_of(share), column);
    mark = mark == curve_mark ? both_mark : fit_mark;
  }
}

std::vector<std::string> age_axis(const Ticks& ticks, LifeUnit unit, int columns) {
  std::string marks(static_cast<std::size_t>(margin + columns), ' ');
  std::string labels(marks.size(), ' ');
  std::size_t free_from = 0;
  for (int i = 0; i <= ticks.count; ++i) {
    const std::size_t at = margin + static_cast<std::size_t>(i * (columns - 1) / ticks.count);
    marks[at] = '|';
    const std::string label = life_text(ticks.step * i);
    const std::size_t start = std::min(at - label.size() / 2, labels.size() - label.size());
    if (start < free_from) continue;
    labels.replace(start, label.size(), label);
    free_from = start + label.size() + 1;
  }
  marks.erase(marks.find_last_not_of(' ') + 1);
  labels.erase(labels.find_last_not_of(' ') + 1);
  return {marks, labels, padded_left(fmt::format("age ({})", name_of(unit)), margin + columns)};
}

std::string legend(const GroupLifetime& group, double confidence) {
  std::string text;
  if (group.fit) text += fmt::format("{} Weibull law  ", fit_mark);
  if (!group.curve.steps.empty()) {
    text += fmt::format("{} {}  ", curve_mark, group.curve.by_intervals ? "Turnbull" : "Kaplan & Meier");
    if (group.fit) text += fmt::format("{} both  ", both_mark);
    if (!group.curve.by_intervals) {
      text += fmt::format("{} its {} limits", limit_mark, with_plain_spaces(confidence_text(confidence)));
    }
  }
  text.erase(text.find_last_not_of(' ') + 1);
  return text;
}

}  // namespace

std::vector<std::string> lifetime_plot(const GroupLifetime& group, LifeUnit unit, double confidence,
                                       int width) {
  const double end = last_age(group);
  if (!(end > 0) || !std::isfinite(end)) return {};
  const Ticks ticks = ticks_up_to(end);
  const int columns = width - margin;
  const double step = ticks.step * ticks.count / (columns - 1);

  Canvas canvas(columns);
  draw_curve(canvas, group.curve, columns, step);
  if (group.fit) draw_fit(canvas, *group.fit, columns, step);
  std::vector<std::string> lines = canvas.with_share_axis();
  for (const std::string& line : age_axis(ticks, unit, columns)) lines.push_back(line);
  lines.push_back(legend(group, confidence));
  return lines;
}

}  // namespace mendworth
