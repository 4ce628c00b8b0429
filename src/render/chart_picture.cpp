#include "render/chart_picture.hpp"

#include <fmt/format.h>

#include <array>

#include "render/document.hpp"
#include "render/layout.hpp"

namespace mendworth {

namespace {

// Drawn from a centre that M has moved to; differs in number from the dashes, so that pairs repeat late.
constexpr std::array<const char*, 7> chart_markers = {"m-4 0a4 4 0 1 0 8 0a4 4 0 1 0-8 0z",
                                                      "m-4-4h8v8h-8z",
                                                      "m0-5.5l5 9.5h-10z",
                                                      "m0-5.5l5.5 5.5-5.5 5.5-5.5-5.5z",
                                                      "m-5 0h10m-5-5v10",
                                                      "m0 5.5l5-9.5h-10z",
                                                      "m-4-4l8 8m0-8l-8 8"};

}  // namespace

const char* ChartPicture::marker_path(std::size_t series) {
  return chart_markers[series % chart_markers.size()];
}

std::string ChartPicture::axis_text(const ChartAxis& axis) {
  return axis.unit.empty() ? axis.name : fmt::format("{} ({})", axis.name, axis.unit);
}

double ChartPicture::across(double x) const {
  const double at = on_scale(c_.x.scale, x);
  return std::clamp(left_ + (at - x_low_) / (x_high_ - x_low_) * (right_ - left_), -10.0 * width_,
                    11.0 * width_);
}

double ChartPicture::down(double y) const {
  const double at = on_scale(c_.y.scale, y);
  return std::clamp(bottom_ - (at - y_low_) / (y_high_ - y_low_) * (bottom_ - top_), -10.0 * width_,
                    11.0 * width_);
}

void ChartPicture::text(double x, double y, const std::string& words, const char* classes) {
  const std::string with = *classes == '\0' ? "" : fmt::format(" class=\"{}\"", classes);
  out_ +=
      fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\"{}>{}</text>\n", x, y, with, html_escaped(one_line(words)));
}

void ChartPicture::line(double x1, double y1, double x2, double y2, const char* classes) {
  out_ += fmt::format("<path class=\"{}\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>\n", classes, x1, y1, x2, y2);
}

void ChartPicture::marker(std::size_t series, double x, double y) {
  out_ += fmt::format("<path class=\"{} s{}\" d=\"M{:.1f} {:.1f}{}\"/>\n", series == 0 ? "f0" : "open",
                      color(series), x, y, marker_path(series));
}

std::string ChartPicture::dash(std::size_t series) {
  const char* pattern = chart_colors()[color(series)].dash;
  return *pattern == '\0' ? "" : fmt::format(" stroke-dasharray=\"{}\"", pattern);
}

void ChartPicture::stroke(std::size_t series, const std::string& points) {
  out_ +=
      fmt::format("<polyline class=\"line s{}\"{} points=\"{}\"/>\n", color(series), dash(series), points);
}

void ChartPicture::paragraph(const std::string& words, const char* classes) {
  for (const std::string& piece : text_lines(words, width_ - 2 * margin, font, most_name_lines)) {
    y_ += line_height;
    text(margin, y_ - 4, piece, classes);
  }
}

std::vector<double> ChartPicture::mark_names() {
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
  std::swap(out_, mark_words_);
  for (std::size_t i = 0; i < spans.size(); ++i) {
    most = std::max(most, lanes[i] + 1);
    baselines.push_back(y_ + line_height * (lanes[i] + 1) - 4);
    text((spans[i].from + spans[i].to) / 2, baselines.back(), c_.marks[i].label,
         c_.marks[i].strong ? "middle bold" : "middle");
  }
  std::swap(out_, mark_words_);
  y_ += line_height * most;
  return baselines;
}

void ChartPicture::mark_lines(const std::vector<double>& baselines) {
  for (std::size_t i = 0; i < c_.marks.size(); ++i) {
    const double x = across(c_.marks[i].x);
    if (!c_.marks[i].strong) line(x, top_, x, bottom_, "halo");
    line(x, baselines[i] + 3, x, bottom_, c_.marks[i].strong ? "zero" : "mark");
  }
  out_ += mark_words_;
}

void ChartPicture::x_axis(const std::vector<double>& ticks, double step) {
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

Ticks ChartPicture::x_ticks(double low, double high) const {
  for (int most = std::max(2, static_cast<int>((right_ - left_) / 46));; --most) {
    const Ticks ticks = round_ticks(low, high, most, c_.x.whole);
    double widest = 0;
    for (int i = 0; i <= ticks.count; ++i)
      widest = std::max(widest, text_width(tick_text(c_.x, ticks.at(i), ticks.step), font));
    if (most <= 2 || widest + 10 < (right_ - left_) / ticks.count) return ticks;
  }
}

void ChartPicture::legend_sample(std::size_t series, double x, double width, bool filled) {
  if (filled) {
    out_ += fmt::format("<rect class=\"f{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"16\" height=\"16\"/>\n",
                        color(series), x, y_);
    if (c_.letters)
      text(x + 8, y_ + 12.5, letter(series), fmt::format("middle bold bare t{}", color(series)).c_str());
    return;
  }
  const ChartSeries& drawn = c_.series[series];
  if (drawn.points.empty() && drawn.fit.empty()) return;
  const double middle = y_ + line_height / 2;
  if (drawn.mark != ChartSeries::Mark::points || !drawn.fit.empty())
    stroke(series, fmt::format("{:.1f},{:.1f} {:.1f},{:.1f}", x, middle, x + width, middle));
  if (drawn.mark == ChartSeries::Mark::points || drawn.mark == ChartSeries::Mark::dotted)
    marker(series, x + width / 2, middle);
}

void ChartPicture::legend() {
  double x = margin;
  y_ += 6;
  for (std::size_t i = 0; i < c_.series.size(); ++i) {
    const bool filled = c_.kind != Chart::Kind::curves || c_.series[i].mark == ChartSeries::Mark::columns;
    const double sample = filled ? 16 : 40;
    const auto lines = text_lines(c_.series[i].name, width_ - 2 * margin - sample - 6, font, most_name_lines);
    double widest = 0;
    for (const std::string& piece : lines) widest = std::max(widest, text_width(piece, font));
    if (x > margin && x + sample + 6 + widest > width_ - margin) {
      x = margin;
      y_ += line_height + 4;
    }
    legend_sample(i, x, sample, filled);
    for (std::size_t k = 0; k < lines.size(); ++k)
      text(x + sample + 6, y_ + 12.5 + line_height * static_cast<double>(k), lines[k]);
    y_ += line_height * static_cast<double>(lines.size() - 1);
    x += sample + 6 + widest + 16;
    if (lines.size() > 1) x = width_;
  }
  y_ += line_height + 4;
}

std::string ChartPicture::letter(std::size_t series) {
  return std::string(1, static_cast<char>('a' + series % 26));
}

}  // namespace mendworth
