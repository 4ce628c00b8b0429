#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "render/chart_picture.hpp"

namespace mendworth {

namespace {

constexpr double least_distance = 1.0;  ///< of two points that are both drawn

class CurvesPicture : public ChartPicture {
 public:
  using ChartPicture::ChartPicture;

 private:
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

  void draw() override {
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
};

}  // namespace

std::unique_ptr<ChartPicture> curves_picture(const Chart& chart, int width) {
  return std::make_unique<CurvesPicture>(chart, width);
}

}  // namespace mendworth
