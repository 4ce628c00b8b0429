#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "render/chart.hpp"
#include "render/chart_scale.hpp"

namespace mendworth {

/// What pictures of all kinds share: scales, words, strokes, axes and names. All lengths are in the picture's own units,
/// of which the text is 13 high. Text is placed by how wide it comes out at the most, so that none is cut off or written
/// over. The chart must outlive it.
class ChartPicture {
 public:
  static constexpr double margin = 4, narrow_page = 480;

  ChartPicture(const Chart& chart, int width) : c_(chart), width_(width) {}
  virtual ~ChartPicture() = default;
  ChartPicture(const ChartPicture&) = delete;
  ChartPicture& operator=(const ChartPicture&) = delete;

  /// What lies between the frame's tags, from `top` down; once.
  [[nodiscard]] std::string body(double top) {
    y_ = top;
    draw();
    return std::move(out_);
  }
  /// Of the whole picture, once it is drawn.
  [[nodiscard]] double height() const { return std::ceil(y_ + margin); }

 protected:
  static constexpr double font = 13, line_height = 16;
  static constexpr std::size_t most_name_lines = 3;

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

  virtual void draw() = 0;

  [[nodiscard]] double across(double x) const;
  [[nodiscard]] double down(double y) const;
  static std::size_t color(std::size_t series) { return series % chart_colors().size(); }
  static std::string dash(std::size_t series);
  static std::string letter(std::size_t series);
  static std::string axis_text(const ChartAxis& axis);

  void text(double x, double y, const std::string& words, const char* classes = "");
  void line(double x1, double y1, double x2, double y2, const char* classes);
  /// The marker of a series, from a centre that M has moved to.
  static const char* marker_path(std::size_t series);
  void marker(std::size_t series, double x, double y);
  void stroke(std::size_t series, const std::string& points);
  /// Lines of text from the current height on.
  void paragraph(const std::string& words, const char* classes);

  /// Names of marks stand in lanes above the plot; gives the baseline of each. They are drawn with the lines, over them.
  std::vector<double> mark_names();
  void mark_lines(const std::vector<double>& baselines);
  /// The scale of x along the bottom.
  void x_axis(const std::vector<double>& ticks, double step);
  /// Round values of a linear x of which no two names meet.
  [[nodiscard]] Ticks x_ticks(double low, double high) const;
  void legend();

  const Chart& c_;
  double width_;
  std::string out_{};
  double y_ = 0;  ///< how far down the picture goes by now
  double left_ = 0, right_ = 0, top_ = 0, bottom_ = 0;
  double x_low_ = 0, x_high_ = 1, y_low_ = 0, y_high_ = 1;  ///< on their scales

 private:
  std::string mark_words_{};

  void legend_sample(std::size_t series, double x, double width, bool filled);
};

[[nodiscard]] std::unique_ptr<ChartPicture> curves_picture(const Chart& chart, int width);
[[nodiscard]] std::unique_ptr<ChartPicture> bars_picture(const Chart& chart, int width);
[[nodiscard]] std::unique_ptr<ChartPicture> grid_picture(const Chart& chart, int width);

}  // namespace mendworth
