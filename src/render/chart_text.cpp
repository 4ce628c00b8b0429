#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "render/chart_scale.hpp"
#include "render/layout.hpp"

// The same picture in characters: a canvas of cells, an axis below it and the names of what is drawn.
namespace mendworth {

namespace {

struct Signs {
  std::array<const char*, 8> lines, fills;
  const char *both, *limit, *mark, *zero, *point, *across, *tick;
};
const Signs& signs(bool unicode) {
  // clang-format off
  static constexpr Signs ascii{{"*", "#", "o", "x", "+", "~", "%", "&"}, {"#", "=", "o", "x", "+", "~", "%", "&"},
                               "@", ".", ":", "|", "*", "-", "|"};
  static constexpr Signs drawn{{"●", "○", "■", "□", "▲", "△", "◆", "◇"}, {"█", "▒", "▓", "░", "▤", "▥", "▦", "▧"},
                               "◉", "·", "┊", "│", "◆", "─", "│"};
  // clang-format on
  return unicode ? drawn : ascii;
}

std::string trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

class Canvas {
 public:
  Canvas(int rows, int columns)
      : rows_(static_cast<std::size_t>(rows),
              std::vector<std::string>(static_cast<std::size_t>(columns), " ")) {}
  std::string& at(int row, int column) {
    return rows_[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)];
  }
  [[nodiscard]] bool has(int row, int column) const {
    return row >= 0 && column >= 0 && static_cast<std::size_t>(row) < rows_.size() &&
           static_cast<std::size_t>(column) < rows_.front().size();
  }
  [[nodiscard]] std::string line(int row) const {
    std::string text;
    for (const std::string& cell : rows_[static_cast<std::size_t>(row)]) text += cell;
    return text;
  }

 private:
  std::vector<std::vector<std::string>> rows_;
};

// Words centred over places of a line, in as many lines as they need.
std::vector<std::string> words_at(const std::vector<std::pair<int, std::string>>& words, int width) {
  std::vector<Stretch> spans;
  for (const auto& [at, word] : words) {
    const int from = std::clamp(at - display_width(word) / 2, 0, std::max(0, width - display_width(word)));
    spans.push_back({static_cast<double>(from), static_cast<double>(from + display_width(word))});
  }
  const std::vector<int> lanes = lanes_of(spans, 1);
  std::vector<std::string> lines(
      lanes.empty() ? 0 : static_cast<std::size_t>(1 + *std::ranges::max_element(lanes)));
  std::vector<std::size_t> order(words.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::stable_sort(order,
                           [&](std::size_t a, std::size_t b) { return spans[a].from < spans[b].from; });
  for (const std::size_t i : order) {
    std::string& line = lines[static_cast<std::size_t>(lanes[i])];
    line = padded_right(line, static_cast<int>(spans[i].from)) + words[i].second;
  }
  return lines;
}

class Picture {
 public:
  Picture(const Chart& chart, int width, bool unicode) : c_(chart), width_(width), signs_(signs(unicode)) {}

  std::vector<std::string> drawn() {
    if (c_.kind == Chart::Kind::curves) curves();
    if (c_.kind == Chart::Kind::bars) bars();
    for (std::string& line : lines_) line = trimmed(line);
    return std::move(lines_);
  }

 private:
  [[nodiscard]] int column(double x) const {
    const double share = (on_scale(c_.x.scale, x) - low_) / (high_ - low_);
    return static_cast<int>(std::lround(std::clamp(share, -1.0, 2.0) * (columns_ - 1)));
  }
  [[nodiscard]] double place(int column) const { return low_ + (high_ - low_) * column / (columns_ - 1); }

  // The axis of x below the canvas: its line, round values, name.
  void x_axis(const Ticks& ticks) {
    std::string line(static_cast<std::size_t>(margin_), ' ');
    std::vector<std::string> cells(static_cast<std::size_t>(columns_), signs_.across);
    std::vector<std::pair<int, std::string>> words;
    int free_from = 0;
    for (int i = 0; i <= ticks.count; ++i) {
      const int at = column(ticks.at(i));
      if (at < 0 || at >= columns_) continue;
      cells[static_cast<std::size_t>(at)] = signs_.tick;
      const std::string name = with_plain_spaces(tick_text(c_.x, ticks.at(i), ticks.step));
      const int width = display_width(name);
      const int from = std::clamp(margin_ + at - width / 2, 0, std::max(0, width_ - width));
      if (from < free_from) continue;
      free_from = from + width + 1;
      words.emplace_back(margin_ + at, name);
    }
    for (const std::string& cell : cells) line += cell;
    lines_.push_back(line);
    for (const std::string& names : words_at(words, width_)) lines_.push_back(names);
    lines_.push_back(padded_left(c_.x.unit.empty() ? c_.x.name : fmt::format("{} ({})", c_.x.name, c_.x.unit),
                                 margin_ + columns_));
  }
  [[nodiscard]] Ticks ticks_of_x() const {
    for (int most = std::max(2, columns_ / 8);; --most) {
      const Ticks ticks = round_ticks(low_, high_, most, c_.x.whole);
      int widest = 0;
      for (int i = 0; i <= ticks.count; ++i)
        widest = std::max(widest, display_width(tick_text(c_.x, ticks.at(i), ticks.step)));
      const double room = (columns_ - 1) * ticks.step / (high_ - low_);
      if (most <= 2 || widest + 1 < room) return ticks;
    }
  }
  void mark_names() {
    std::vector<std::pair<int, std::string>> words;
    for (const ChartMark& mark : c_.marks)
      words.emplace_back(margin_ + column(mark.x), with_plain_spaces(printable(mark.label)));
    for (const std::string& line : words_at(words, width_)) lines_.push_back(line);
  }
  void names(const std::vector<std::string>& entries) {
    std::string line;
    const auto write = [&] {
      if (line.empty()) return;
      const bool fits = display_width(line) <= width_;
      for (const std::string& piece : fits ? std::vector{line} : wrapped(line, width_))
        lines_.push_back(piece);
      line.clear();
    };
    for (const std::string& entry : entries) {
      if (!line.empty() && display_width(line) + 2 + display_width(entry) > width_) write();
      line += (line.empty() ? "" : "  ") + entry;
    }
    write();
  }

  // ---- curves

  void curves() {
    double y_low = 1e300, y_high = -1e300;
    low_ = 1e300;
    high_ = -1e300;
    const auto take = [](double& low, double& high, double value) {
      low = std::min(low, value);
      high = std::max(high, value);
    };
    bool filled = false;
    for (const double value : c_.x.reach) take(low_, high_, on_scale(c_.x.scale, value));
    for (const double value : c_.y.reach) take(y_low, y_high, value);
    for (const ChartMark& mark : c_.marks) take(low_, high_, on_scale(c_.x.scale, mark.x));
    for (const ChartSeries& series : c_.series) {
      filled = filled || series.mark == ChartSeries::Mark::columns;
      for (const auto* points : {&series.points, &series.fit}) {
        for (const ChartPoint& point : *points) {
          take(low_, high_, on_scale(c_.x.scale, point.x));
          if (series.mark == ChartSeries::Mark::columns) take(low_, high_, point.x + c_.column_width);
          take(y_low, y_high, point.y);
          if (point.low) take(y_low, y_high, *point.low);
          if (point.high) take(y_low, y_high, *point.high);
        }
      }
    }
    if (filled) take(y_low, y_high, 0);
    if (!(high_ > low_)) high_ = low_ + 1;
    const Ticks ticks = round_ticks(y_low, y_high, filled ? 3 : 5, c_.y.whole);
    const int rows_per_tick = std::max(2, (filled ? c_.picture_rows / 2 : c_.picture_rows) / ticks.count);
    const int rows = rows_per_tick * ticks.count + 1;
    std::vector<std::string> labels;
    int widest = 0;
    for (int i = 0; i <= ticks.count; ++i) {
      labels.push_back(with_plain_spaces(tick_text(c_.y, ticks.at(i), ticks.step)));
      widest = std::max(widest, display_width(labels.back()));
    }
    margin_ = widest + 2;
    columns_ = width_ - margin_;
    const auto row_of = [&](double y) {
      return static_cast<int>(std::lround((ticks.last() - y) / (ticks.last() - ticks.at(0)) * (rows - 1)));
    };
    Canvas canvas(rows, columns_);
    for (std::size_t i = 0; i < c_.series.size(); ++i) {
      const ChartSeries& series = c_.series[i];
      limits(canvas, series.fit.empty() ? series : ChartSeries{}, row_of);
    }
    for (std::size_t i = 0; i < c_.series.size(); ++i) one_series(canvas, i, row_of, row_of(0));
    for (const ChartMark& mark : c_.marks) {
      for (int row = 0; row < rows; ++row) {
        if (canvas.has(row, column(mark.x)) && canvas.at(row, column(mark.x)) == " ")
          canvas.at(row, column(mark.x)) = mark.strong ? signs_.zero : signs_.mark;
      }
    }
    lines_.push_back(c_.y.unit.empty() ? c_.y.name : fmt::format("{} ({})", c_.y.name, c_.y.unit));
    mark_names();
    for (int row = 0; row < rows; ++row) {
      const int tick = row % rows_per_tick == 0 ? ticks.count - row / rows_per_tick : -1;
      lines_.push_back(padded_left(tick < 0 ? "" : labels[static_cast<std::size_t>(tick)], widest) + " " +
                       (tick < 0 ? signs_.tick : "+") + canvas.line(row));
    }
    x_axis(ticks_of_x());
    std::vector<std::string> entries;
    for (std::size_t i = 0; i < c_.series.size(); ++i) {
      const ChartSeries& series = c_.series[i];
      const bool columns = series.mark == ChartSeries::Mark::columns;
      if (series.points.empty() && series.fit.empty()) continue;
      entries.push_back(sign(i, columns) + " " + with_plain_spaces(printable(series.name)));
      if (!series.low_name.empty() && series.fit.empty())
        entries.push_back(std::string(signs_.limit) + " " +
                          with_plain_spaces(series.low_name + ", " + series.high_name));
    }
    if (c_.series.size() > 1 && !filled) entries.push_back(std::string(signs_.both) + " both");
    names(entries);
  }

  [[nodiscard]] std::string sign(std::size_t series, bool fills) const {
    const auto& all = fills ? signs_.fills : signs_.lines;
    return all[series % all.size()];
  }

  // The value of a curve at a place of its scale: absent beyond its ends.
  [[nodiscard]] std::optional<ChartPoint> value_at(const ChartSeries& series, double at) const {
    const auto& points = series.fit.empty() ? series.points : series.fit;
    const double slack = 0.5 * (high_ - low_) / (columns_ - 1);
    if (points.empty() || on_scale(c_.x.scale, points.front().x) > at + slack ||
        on_scale(c_.x.scale, points.back().x) < at - slack)
      return std::nullopt;
    const auto next = std::upper_bound(points.begin(), points.end(), at, [&](double x, const ChartPoint& p) {
      return x < on_scale(c_.x.scale, p.x);
    });
    if (next == points.begin()) return points.front();
    const ChartPoint& before = *(next - 1);
    if (series.mark == ChartSeries::Mark::steps || next == points.end()) return before;
    const double x0 = on_scale(c_.x.scale, before.x);
    const double share = (at - x0) / (on_scale(c_.x.scale, next->x) - x0);
    const auto between = [share](double a, double b) { return a + share * (b - a); };
    ChartPoint point{next->x, between(before.y, next->y)};
    if (before.low && next->low) point.low = between(*before.low, *next->low);
    if (before.high && next->high) point.high = between(*before.high, *next->high);
    return point;
  }

  template <class RowOf>
  void limits(Canvas& canvas, const ChartSeries& series, const RowOf& row_of) {
    if (series.low_name.empty()) return;
    for (int at = 0; at < columns_; ++at) {
      const auto point = value_at(series, place(at));
      if (!point) continue;
      for (const auto& limit : {point->low, point->high}) {
        if (limit && canvas.has(row_of(*limit), at)) canvas.at(row_of(*limit), at) = signs_.limit;
      }
    }
  }

  template <class RowOf>
  void one_series(Canvas& canvas, std::size_t i, const RowOf& row_of, int zero_row) {
    const ChartSeries& series = c_.series[i];
    const auto put = [&](int row, int at, const std::string& what) {
      if (!canvas.has(row, at)) return;
      std::string& cell = canvas.at(row, at);
      const bool of_another = cell != " " && cell != signs_.limit && cell != what;
      cell = of_another ? signs_.both : what;
    };
    if (series.mark == ChartSeries::Mark::columns) {
      for (const ChartPoint& point : series.points) {
        const int from = column(point.x), to = std::max(from + 1, column(point.x + c_.column_width));
        for (int at = from; at < to; ++at) {
          for (int row = row_of(point.y); row < zero_row; ++row) put(row, at, sign(i, true));
        }
      }
      return;
    }
    if (series.mark == ChartSeries::Mark::points) {
      for (const ChartPoint& point : series.points) put(row_of(point.y), column(point.x), sign(i, false));
      return;
    }
    std::optional<int> row_before;
    for (int at = 0; at < columns_; ++at) {
      const auto point = value_at(series, place(at));
      if (!point) continue;
      const int row = row_of(point->y);
      const bool jumps = series.mark == ChartSeries::Mark::steps && row_before;
      const int from = jumps ? std::min(row, *row_before + (row > *row_before ? 1 : 0)) : row;
      for (int drawn = from; drawn <= row; ++drawn) put(drawn, at, sign(i, false));
      row_before = row;
    }
  }

  // ---- bars

  void bars() {
    int before = 0, behind = 0;
    low_ = 1e300;
    high_ = -1e300;
    const auto take = [&](double value) {
      low_ = std::min(low_, value);
      high_ = std::max(high_, value);
    };
    for (const double value : c_.x.reach) take(value);
    for (const ChartMark& mark : c_.marks) take(mark.x);
    for (const ChartBar& bar : c_.bars) {
      if (bar.point) take(*bar.point);
      behind = std::max(behind, display_width(bar.note) + 1);
      for (const ChartSegment& part : bar.segments) {
        take(part.from);
        take(part.to);
        int& side = part.to < part.from ? before : behind;
        side = std::max(side, display_width(part.label) + 1);
      }
    }
    margin_ = before;
    columns_ = std::max(20, width_ - before - behind);
    if (!(high_ > low_)) high_ = low_ + 1;
    mark_names();
    for (const ChartBar& bar : c_.bars) one_bar(bar);
    x_axis(ticks_of_x());
    std::vector<std::string> entries;
    if (c_.series.size() > 1 || !c_.point_name.empty()) {
      for (std::size_t i = 0; i < c_.series.size(); ++i)
        entries.push_back(sign_of_part(i) + " " + with_plain_spaces(printable(c_.series[i].name)));
      if (!c_.point_name.empty()) entries.push_back(std::string(signs_.point) + " " + c_.point_name);
    }
    names(entries);
  }

  [[nodiscard]] std::string sign_of_part(std::size_t series) const {
    return c_.letters ? std::string(1, static_cast<char>('a' + series % 26)) : sign(series, true);
  }

  void one_bar(const ChartBar& bar) {
    for (const std::string& piece : wrapped(printable(bar.label), width_)) lines_.push_back(piece);
    Canvas canvas(1, columns_);
    for (const ChartMark& mark : c_.marks) {
      if (canvas.has(0, column(mark.x)))
        canvas.at(0, column(mark.x)) = mark.strong ? signs_.zero : signs_.mark;
    }
    std::string left, right;
    int end = 0;
    for (const ChartSegment& part : bar.segments) {
      int from = column(std::min(part.from, part.to)), to = column(std::max(part.from, part.to));
      if (part.from == part.to) continue;
      to = std::min(std::max(to, from + 1), columns_);
      from = std::min(from, columns_ - 1);
      for (int at = from; at < to; ++at) canvas.at(0, at) = sign_of_part(part.series);
      end = std::max(end, to);
      (part.to < part.from ? left : right) = with_plain_spaces(printable(part.label));
    }
    if (bar.point && canvas.has(0, column(*bar.point))) {
      canvas.at(0, column(*bar.point)) = signs_.point;
      end = std::max(end, column(*bar.point) + 1);
    }
    if (right.empty()) right = with_plain_spaces(printable(bar.note));
    std::string line = canvas.line(0);
    lines_.push_back(padded_left(left.empty() ? "" : left + " ", margin_) + line +
                     (right.empty() ? "" : " " + right));
  }

  const Chart& c_;
  int width_;
  const Signs& signs_;
  int margin_ = 0, columns_ = 0;
  double low_ = 0, high_ = 1;  ///< of x, on its scale
  std::vector<std::string> lines_;
};

}  // namespace

std::vector<std::string> chart_text(const Chart& chart, int width, bool unicode) {
  if (chart.empty() || chart.only_image || chart.kind == Chart::Kind::grid) return {};
  return Picture(chart, width, unicode).drawn();
}

}  // namespace mendworth
