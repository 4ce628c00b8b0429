#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "render/chart_scale.hpp"
#include "render/document.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

// All lengths are in the picture's own units, of which the text is 13 high. Text is placed by how wide it comes out at
// the most, so that none is cut off or written over.
namespace mendworth {

namespace {

constexpr double font = 13, line_height = 16, margin = 4;
constexpr double narrow_page = 480;
constexpr double bar_height = 18, letter_height = 14;
constexpr double least_distance = 1.0;  ///< of two points that are both drawn
constexpr std::size_t most_name_lines = 3;

// Drawn from a centre that M has moved to; differs in number from the dashes, so that pairs repeat late.
constexpr std::array<const char*, 7> markers = {"m-4 0a4 4 0 1 0 8 0a4 4 0 1 0-8 0z",
                                                "m-4-4h8v8h-8z",
                                                "m0-5.5l5 9.5h-10z",
                                                "m0-5.5l5.5 5.5-5.5 5.5-5.5-5.5z",
                                                "m-5 0h10m-5-5v10",
                                                "m0 5.5l5-9.5h-10z",
                                                "m-4-4l8 8m0-8l-8 8"};

struct Range {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void take(double value) {
    if (!std::isfinite(value)) return;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  [[nodiscard]] bool empty() const { return low > high; }
};

std::string axis_text(const ChartAxis& axis) {
  return axis.unit.empty() ? axis.name : fmt::format("{} ({})", axis.name, axis.unit);
}

std::string markup_text(const std::string& text) { return html_escaped(one_line(text)); }

class Drawing {
 public:
  Drawing(const Chart& chart, int width) : c_(chart), width_(width) {}

  /// What lies between the frame's tags; `height` comes out.
  std::string body(double top) {
    y_ = top;
    switch (c_.kind) {
      case Chart::Kind::curves: curves(); break;
      case Chart::Kind::bars: bars(); break;
      case Chart::Kind::grid: grid(); break;
    }
    return std::move(out_);
  }
  [[nodiscard]] double height() const { return std::ceil(y_ + margin); }

 private:
  [[nodiscard]] double across(double x) const {
    const double at = on_scale(c_.x.scale, x);
    return std::clamp(left_ + (at - x_low_) / (x_high_ - x_low_) * (right_ - left_), -10.0 * width_,
                      11.0 * width_);
  }
  [[nodiscard]] double down(double y) const {
    const double at = on_scale(c_.y.scale, y);
    return std::clamp(bottom_ - (at - y_low_) / (y_high_ - y_low_) * (bottom_ - top_), -10.0 * width_,
                      11.0 * width_);
  }
  static std::size_t color(std::size_t series) { return series % chart_colors().size(); }

  void text(double x, double y, const std::string& words, const char* classes = "") {
    const std::string with = *classes == '\0' ? "" : fmt::format(" class=\"{}\"", classes);
    out_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\"{}>{}</text>\n", x, y, with, markup_text(words));
  }
  void line(double x1, double y1, double x2, double y2, const char* classes) {
    out_ += fmt::format("<path class=\"{}\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>\n", classes, x1, y1, x2, y2);
  }
  void marker(std::size_t series, double x, double y) {
    out_ += fmt::format("<path class=\"{} s{}\" d=\"M{:.1f} {:.1f}{}\"/>\n", series == 0 ? "f0" : "open",
                        color(series), x, y, markers[series % markers.size()]);
  }
  static std::string dash(std::size_t series) {
    const char* pattern = chart_colors()[color(series)].dash;
    return *pattern == '\0' ? "" : fmt::format(" stroke-dasharray=\"{}\"", pattern);
  }
  void stroke(std::size_t series, const std::string& points) {
    out_ +=
        fmt::format("<polyline class=\"line s{}\"{} points=\"{}\"/>\n", color(series), dash(series), points);
  }

  /// Lines of text from the current height on.
  void paragraph(const std::string& words, const char* classes) {
    for (const std::string& piece : text_lines(words, width_ - 2 * margin, font, most_name_lines)) {
      y_ += line_height;
      text(margin, y_ - 4, piece, classes);
    }
  }

  /// Names of marks stand in lanes above the plot; gives the baseline of each.
  std::vector<double> mark_names() {
    std::vector<Stretch> spans;
    for (const ChartMark& mark : c_.marks) {
      const double half = text_width(mark.label, font) / 2;
      const double centre =
          std::clamp(across(mark.x), margin + half, std::max(margin + half, width_ - margin - half));
      spans.push_back({centre - half, centre + half});
    }
    const std::vector<int> lanes = lanes_of(spans, 6);
    std::vector<double> baselines;
    int most = 0;
    for (std::size_t i = 0; i < spans.size(); ++i) {
      most = std::max(most, lanes[i] + 1);
      baselines.push_back(y_ + line_height * (lanes[i] + 1) - 4);
      text((spans[i].from + spans[i].to) / 2, baselines.back(), c_.marks[i].label,
           c_.marks[i].strong ? "middle bold" : "middle");
    }
    y_ += line_height * most;
    return baselines;
  }
  void mark_lines(const std::vector<double>& baselines) {
    for (std::size_t i = 0; i < c_.marks.size(); ++i) {
      const double x = across(c_.marks[i].x);
      if (!c_.marks[i].strong) line(x, top_, x, bottom_, "halo");
      line(x, baselines[i] + 3, x, bottom_, c_.marks[i].strong ? "zero" : "mark");
    }
  }

  /// The scale of x along the bottom.
  void x_axis(const std::vector<double>& ticks, double step) {
    double free_from = -1e9;
    for (const double tick : ticks) {
      const std::string name = tick_text(c_.x, tick, step);
      const double half = text_width(name, font) / 2;
      const double centre = std::clamp(across(tick), half, width_ - half);
      if (centre - half < free_from) continue;
      free_from = centre + half + 6;
      text(centre, bottom_ + line_height + 2, name, "middle soft");
    }
    y_ = bottom_ + line_height + 6;
    for (const std::string& piece : text_lines(axis_text(c_.x), width_ - 2 * margin, font, most_name_lines)) {
      y_ += line_height;
      text(right_, y_ - 2, piece, right_ - text_width(piece, font) < 0 ? "soft" : "end soft");
    }
  }
  /// Round values of a linear x of which no two names meet.
  [[nodiscard]] Ticks x_ticks(double low, double high) const {
    for (int most = std::max(2, static_cast<int>((right_ - left_) / 46));; --most) {
      const Ticks ticks = round_ticks(low, high, most, c_.x.whole);
      double widest = 0;
      for (int i = 0; i <= ticks.count; ++i)
        widest = std::max(widest, text_width(tick_text(c_.x, ticks.at(i), ticks.step), font));
      if (most <= 2 || widest + 10 < (right_ - left_) / ticks.count) return ticks;
    }
  }

  void legend() {
    double x = margin;
    y_ += 6;
    for (std::size_t i = 0; i < c_.series.size(); ++i) {
      const bool filled = c_.kind != Chart::Kind::curves || c_.series[i].mark == ChartSeries::Mark::columns;
      const double sample = filled ? 16 : 40;
      const auto lines =
          text_lines(c_.series[i].name, width_ - 2 * margin - sample - 6, font, most_name_lines);
      double widest = 0;
      for (const std::string& piece : lines) widest = std::max(widest, text_width(piece, font));
      if (x > margin && x + sample + 6 + widest > width_ - margin) {
        x = margin;
        y_ += line_height + 4;
      }
      const double middle = y_ + line_height / 2;
      if (filled) {
        out_ += fmt::format("<rect class=\"f{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"16\" height=\"16\"/>\n",
                            color(i), x, y_);
        if (c_.letters) text(x + 8, y_ + 12.5, letter(i), fmt::format("middle bold t{}", color(i)).c_str());
      } else {
        if (!c_.series[i].points.empty() || !c_.series[i].fit.empty()) {
          if (c_.series[i].mark != ChartSeries::Mark::points || !c_.series[i].fit.empty())
            stroke(i, fmt::format("{:.1f},{:.1f} {:.1f},{:.1f}", x, middle, x + sample, middle));
          if (c_.series[i].mark == ChartSeries::Mark::points ||
              c_.series[i].mark == ChartSeries::Mark::dotted)
            marker(i, x + sample / 2, middle);
        }
      }
      for (std::size_t k = 0; k < lines.size(); ++k)
        text(x + sample + 6, y_ + 12.5 + line_height * static_cast<double>(k), lines[k]);
      y_ += line_height * static_cast<double>(lines.size() - 1);
      x += sample + 6 + widest + 16;
      if (lines.size() > 1) x = width_;
    }
    y_ += line_height + 4;
  }
  static std::string letter(std::size_t series) {
    return std::string(1, static_cast<char>('a' + series % 26));
  }

  // ---- curves

  void find_ranges() {
    Range x, y;
    for (const double value : c_.x.reach) x.take(on_scale(c_.x.scale, value));
    for (const double value : c_.y.reach) y.take(on_scale(c_.y.scale, value));
    for (const ChartMark& mark : c_.marks) x.take(on_scale(c_.x.scale, mark.x));
    for (const ChartSeries& series : c_.series) {
      const bool columns = series.mark == ChartSeries::Mark::columns;
      for (const ChartPoint& point : series.points) {
        x.take(on_scale(c_.x.scale, point.x));
        if (columns) x.take(point.x + c_.column_width);
        y.take(on_scale(c_.y.scale, point.y));
        if (columns) y.take(0);
        if (point.low && c_.y.scale == ChartAxis::Scale::linear) y.take(*point.low);
        if (point.high && c_.y.scale == ChartAxis::Scale::linear) y.take(*point.high);
      }
    }
    if (x.empty()) x.take(0);
    if (y.empty()) y.take(0);
    x_low_ = x.low;
    x_high_ = x.high > x.low ? x.high : x.low + 1;
    y_low_ = y.low;
    y_high_ = y.high > y.low ? y.high : y.low + 1;
  }

  void curves() {
    find_ranges();
    paragraph(axis_text(c_.y), "soft");
    y_ += 2;
    // The scale of y, and how much room its names take.
    const bool linear_y = c_.y.scale == ChartAxis::Scale::linear;
    std::vector<double> y_ticks;
    double y_step = 0;
    if (linear_y) {
      const Ticks ticks = round_ticks(y_low_, y_high_, 5, c_.y.whole);
      for (int i = 0; i <= ticks.count; ++i) y_ticks.push_back(ticks.at(i));
      y_low_ = ticks.at(0);
      y_high_ = ticks.last();
      y_step = ticks.step;
    } else {
      y_ticks = failed_ticks(-std::expm1(-std::exp(y_low_)), -std::expm1(-std::exp(y_high_)));
    }
    double widest = 0;
    for (const double tick : y_ticks)
      widest = std::max(widest, text_width(tick_text(c_.y, tick, y_step), font));
    left_ = margin + widest + 6;
    // Names beside the ends of their lines.
    std::vector<std::vector<std::string>> names;
    double names_width = 0;
    for (const ChartSeries& series : c_.series) {
      names.push_back(c_.legend
                          ? std::vector<std::string>{}
                          : text_lines(series.name, std::min(170.0, 0.28 * width_), font, most_name_lines));
      for (const std::string& piece : names.back())
        names_width = std::max(names_width, text_width(piece, font));
    }
    right_ = width_ - margin - (names_width > 0 ? names_width + 14 : 10);

    const std::vector<double> baselines = mark_names();
    top_ = y_ + 6;
    bottom_ = top_ + (linear_y ? (width_ < narrow_page ? 190 : 250) : 420);
    for (const double tick : y_ticks) {
      line(left_, down(tick), right_, down(tick), linear_y && tick == 0 ? "axis" : "grid");
      text(left_ - 6, down(tick) + 4.5, tick_text(c_.y, tick, y_step), "end soft");
    }
    const auto [x_ticks, x_step] = ticks_of_x();
    for (const double tick : x_ticks) line(across(tick), top_, across(tick), bottom_, "grid");
    line(left_, bottom_, right_, bottom_, "axis");

    // What is drawn beyond the scales is cut off by a frame of its own.
    out_ += fmt::format(
        "<svg x=\"{0:.1f}\" y=\"{1:.1f}\" width=\"{2:.1f}\" height=\"{3:.1f}\" viewBox=\"{0:.1f} {1:.1f} "
        "{2:.1f} {3:.1f}\">\n",
        left_ - 6, top_ - 6, right_ - left_ + 12, bottom_ - top_ + 12);
    for (std::size_t i = 0; i < c_.series.size(); ++i) series_band(i);
    for (std::size_t i = 0; i < c_.series.size(); ++i) series_drawn(i);
    out_ += "</svg>\n";
    mark_lines(baselines);
    const double lowest = names_width > 0 ? names_at_ends(names) : 0;
    x_axis(x_ticks, x_step);
    y_ = std::max(y_, lowest);
    if (c_.legend) legend();
  }

  [[nodiscard]] std::pair<std::vector<double>, double> ticks_of_x() const {
    std::vector<double> values;
    if (c_.x.scale == ChartAxis::Scale::logarithmic) {
      return {log_ticks(std::exp(x_low_), std::exp(x_high_), static_cast<int>((right_ - left_) / 70)), 0.0};
    }
    const Ticks ticks = x_ticks(x_low_, x_high_);
    for (int i = 0; i <= ticks.count; ++i) {
      const double slack = 1e-9 * (x_high_ - x_low_);
      if (ticks.at(i) >= x_low_ - slack && ticks.at(i) <= x_high_ + slack) values.push_back(ticks.at(i));
    }
    return {values, ticks.step};
  }

  void series_band(std::size_t i) {
    const ChartSeries& series = c_.series[i];
    const auto& points = series.fit.empty() ? series.points : series.fit;
    if (series.low_name.empty()) return;
    std::string corners;  // along the upper limit, and back along the lower one
    const auto add = [&](double x, double y) {
      corners += fmt::format("{:.1f},{:.1f} ", across(x), down(y));
    };
    const bool steps = series.mark == ChartSeries::Mark::steps;
    for (std::size_t k = 0; k < points.size(); ++k) {
      if (!points[k].high) continue;
      if (steps && k > 0 && points[k - 1].high) add(points[k].x, *points[k - 1].high);
      add(points[k].x, *points[k].high);
    }
    for (std::size_t k = points.size(); k-- > 0;) {
      if (!points[k].low) continue;
      add(points[k].x, *points[k].low);
      if (steps && k > 0 && points[k - 1].low) add(points[k].x, *points[k - 1].low);
    }
    if (corners.empty()) return;
    corners.pop_back();
    out_ +=
        fmt::format("<polygon class=\"band f{0} s{0}\"{1} points=\"{2}\"/>\n", color(i), dash(i), corners);
  }

  void series_drawn(std::size_t i) {
    const ChartSeries& series = c_.series[i];
    using Mark = ChartSeries::Mark;
    if (series.mark == Mark::columns) {
      for (const ChartPoint& point : series.points) {
        const double x = across(point.x), y = down(point.y);
        out_ += fmt::format(
            "<rect class=\"bar f{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\"/>\n",
            color(i), x, y, std::max(1.0, across(point.x + c_.column_width) - x), std::max(0.0, bottom_ - y));
      }
      return;
    }
    const auto path = [&](const std::vector<ChartPoint>& points, bool steps) {
      std::string text;
      double before = 0;
      for (const ChartPoint& point : points) {
        const double x = across(point.x), y = down(point.y);
        if (steps && !text.empty()) text += fmt::format(" {:.1f},{:.1f}", x, before);
        text += fmt::format("{}{:.1f},{:.1f}", text.empty() ? "" : " ", x, y);
        before = y;
      }
      return text;
    };
    if (!series.fit.empty()) stroke(i, path(series.fit, false));
    if (series.mark != Mark::points && !series.points.empty())
      stroke(i, path(series.points, series.mark == Mark::steps));
    if (series.mark == Mark::line || series.mark == Mark::steps) return;
    double last_x = -1e9, last_y = -1e9;
    for (const ChartPoint& point : series.points) {
      const double x = across(point.x), y = down(point.y);
      if (std::hypot(x - last_x, y - last_y) < least_distance) continue;
      marker(i, x, y);
      last_x = x;
      last_y = y;
    }
  }

  /// Gives how far down they go.
  double names_at_ends(const std::vector<std::vector<std::string>>& names) {
    std::vector<double> wanted, heights;
    for (std::size_t i = 0; i < names.size(); ++i) {
      const auto& points = c_.series[i].points;
      wanted.push_back(points.empty() ? top_ : down(points.back().y));
      heights.push_back(line_height * static_cast<double>(names[i].size()));
    }
    const std::vector<double> centres =
        spread_out(wanted, heights, top_ - line_height / 2, bottom_ + line_height / 2);
    double lowest = 0;
    for (std::size_t i = 0; i < names.size(); ++i) {
      if (names[i].empty() || c_.series[i].points.empty()) continue;
      const double end = across(c_.series[i].points.back().x);
      out_ += fmt::format("<path class=\"leader s{}\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>\n", color(i),
                          end + 1, wanted[i], right_ + 11, centres[i]);
      double y = centres[i] - heights[i] / 2;
      for (const std::string& piece : names[i]) {
        y += line_height;
        text(right_ + 14, y - 4, piece);
      }
      lowest = std::max(lowest, y);
    }
    return lowest;
  }

  // ---- bars

  void bars() {
    Range x;
    double before = 0, behind = 0;
    for (const double value : c_.x.reach) x.take(value);
    for (const ChartMark& mark : c_.marks) x.take(mark.x);
    for (const ChartBar& bar : c_.bars) {
      if (bar.point) x.take(*bar.point);
      behind = std::max(behind, text_width(bar.note, font));
      for (const ChartSegment& part : bar.segments) {
        x.take(part.from);
        x.take(part.to);
        double& side = part.to < part.from ? before : behind;
        side = std::max(side, text_width(part.label, font));
      }
    }
    if (x.empty()) x.take(0);
    left_ = margin + 8 + before;
    right_ = width_ - margin - 10 - behind;
    const Ticks ticks = x_ticks(x.low, x.high);
    x_low_ = ticks.at(0);
    x_high_ = ticks.last();
    const std::vector<double> baselines = mark_names();
    top_ = y_ + 2;
    y_ = top_;

    std::string rows;  // the grid lies behind them, and goes as far down as they do
    std::swap(rows, out_);
    for (const ChartBar& bar : c_.bars) one_bar(bar);
    bottom_ = y_ + 4;
    std::swap(rows, out_);
    std::vector<double> values;
    for (int i = 0; i <= ticks.count; ++i) {
      values.push_back(ticks.at(i));
      line(across(values.back()), top_, across(values.back()), bottom_, values.back() == 0 ? "axis" : "grid");
    }
    mark_lines(baselines);
    out_ += rows;
    line(left_, bottom_, right_, bottom_, "axis");
    x_axis(values, ticks.step);
    if (c_.series.size() > 1) legend();
  }

  void one_bar(const ChartBar& bar) {
    y_ += 7;
    for (const std::string& piece : text_lines(bar.label, width_ - 2 * margin, font, most_name_lines)) {
      y_ += line_height;
      // Lines of the grid are kept off the words.
      out_ += fmt::format(
          "<rect class=\"under\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\"/>\n",
          margin - 2, y_ - line_height, text_width(piece, font) + 4, line_height);
      text(margin, y_ - 4, piece);
    }
    y_ += 2;
    double end = across(0 < x_low_ ? x_low_ : 0 > x_high_ ? x_high_ : 0);
    std::vector<double> wanted, widths;
    std::vector<std::size_t> outside;
    for (const ChartSegment& part : bar.segments) {
      const double a = std::min(across(part.from), across(part.to)),
                   b = std::max(across(part.from), across(part.to));
      end = std::max(end, b);
      out_ += fmt::format(
          "<rect class=\"bar f{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.0f}\"/>\n",
          color(part.series), a, y_, std::max(1.0, b - a), bar_height);
      if (c_.letters && b - a >= 12) {
        text((a + b) / 2, y_ + 13.5, letter(part.series),
             fmt::format("middle bold t{}", color(part.series)).c_str());
      } else if (c_.letters) {
        outside.push_back(part.series);
        wanted.push_back((a + b) / 2);
        widths.push_back(11);
      }
      if (!part.label.empty() && part.to < part.from) text(a - 4, y_ + 13.5, part.label, "end");
      if (!part.label.empty() && part.to >= part.from) text(b + 4, y_ + 13.5, part.label);
    }
    if (bar.point) {
      const double x = across(*bar.point);
      end = std::max(end, x + 6);
      out_ +=
          fmt::format("<path class=\"point\" d=\"M{:.1f} {:.1f}{}\"/>\n", x, y_ + bar_height / 2, markers[3]);
    }
    if (!bar.note.empty()) text(end + 5, y_ + 13.5, bar.note, "bold");
    y_ += bar_height;
    if (outside.empty()) return;
    const std::vector<double> centres = spread_out(wanted, widths, 0, width_);
    for (std::size_t i = 0; i < outside.size(); ++i) {
      out_ += fmt::format("<path class=\"leader axis\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>\n", wanted[i], y_,
                          centres[i], y_ + 4);
      text(centres[i], y_ + letter_height, letter(outside[i]), "middle");
    }
    y_ += letter_height;
  }

  // ---- grid

  void grid() {
    const auto& xs = c_.x.reach;
    const auto& ys = c_.y.reach;
    paragraph(axis_text(c_.y) + ", downwards", "soft");
    double widest = 0;
    for (const double y : ys) widest = std::max(widest, text_width(tick_text(c_.y, y), font));
    left_ = margin + widest + 8;
    right_ = width_ - margin;
    top_ = y_ + 6;
    const double step = (right_ - left_) / static_cast<double>(std::max<std::size_t>(1, xs.size()));
    const double height = 26;
    double largest = 0;
    for (const auto& row : c_.cells) {
      for (const double cell : row) largest = std::max(largest, std::abs(cell));
    }
    bottom_ = top_ + height * static_cast<double>(ys.size());
    for (std::size_t r = 0; r < c_.cells.size(); ++r) {
      const double y = top_ + height * static_cast<double>(r);
      text(left_ - 6, y + 17.5, tick_text(c_.y, ys[r]), "end soft");
      for (std::size_t k = 0; k < c_.cells[r].size(); ++k) {
        const double value = c_.cells[r][k];
        const double x = left_ + step * static_cast<double>(k);
        out_ += fmt::format(
            "<rect class=\"cell f{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" "
            "fill-opacity=\"{:.2f}\"/>\n",
            value < 0 ? 1 : 0, x, y, step, height,
            largest > 0 ? 0.08 + 0.3 * std::abs(value) / largest : 0.08);
        const std::string words = signed_money_text(value, 0);
        if (text_width(words, font) < step)
          text(x + step / 2, y + 17.5, words, value < 0 ? "middle" : "middle bold");
      }
    }
    for (std::size_t k = 0; k < xs.size(); ++k) {
      const std::string words = tick_text(c_.x, xs[k]);
      const auto stride = static_cast<std::size_t>(std::ceil((text_width(words, font) + 6) / step));
      if (k % stride == 0)
        text(std::min(left_ + step * (static_cast<double>(k) + 0.5), width_ - text_width(words, font) / 2),
             bottom_ + line_height, words, "middle soft");
    }
    x_axis({}, 0);
    if (!c_.series.empty()) legend();
  }

  const Chart& c_;
  double width_;
  std::string out_;
  double y_ = 0;  ///< how far down the picture goes by now
  double left_ = 0, right_ = 0, top_ = 0, bottom_ = 0;
  double x_low_ = 0, x_high_ = 1, y_low_ = 0, y_high_ = 1;  ///< on their scales
};

std::string frame(const Chart& chart, int width, double height, const std::string& more,
                  const std::string& body) {
  return fmt::format(
      "<svg{0} class=\"chart {6}\" viewBox=\"0 0 {1} {2:.0f}\" width=\"{1}\" height=\"{2:.0f}\" "
      "role=\"img\">\n"
      "<title>{3}</title>\n<desc>{4}</desc>\n{5}</svg>\n",
      more, width, height, markup_text(chart.title), markup_text(chart.description), body,
      width < narrow_page ? "narrow" : "wide");
}

}  // namespace

std::string chart_svg(const Chart& chart, int width) {
  Drawing drawing(chart, width);
  const std::string body = drawing.body(0);
  return frame(chart, width, drawing.height(), "", body);
}

std::string chart_svg_file(const Chart& chart, int width) {
  constexpr double title_height = 17, title_line = 22;
  std::string titles;
  double top = 8;
  for (const std::string& line :
       text_lines(with_plain_spaces(printable(chart.title)), width - 2 * margin, title_height * 1.1, 2)) {
    top += title_line;
    titles += fmt::format("<text class=\"bold\" x=\"{}\" y=\"{}\" style=\"font-size: 17px\">{}</text>\n",
                          margin, top - 6, markup_text(line));
  }
  Drawing drawing(chart, width);
  const std::string body = drawing.body(top);
  return frame(chart, width, drawing.height(), " xmlns=\"http://www.w3.org/2000/svg\"",
               "<style>\n" + chart_rules_of_file() +
                   "</style>\n<rect class=\"under\" width=\"100%\" height=\"100%\"/>\n" + titles + body);
}

}  // namespace mendworth
