#include <fmt/format.h>

#include <cmath>

#include "render/chart_picture.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr double bar_height = 18, letter_height = 14;

class BarsPicture : public ChartPicture {
 public:
  using ChartPicture::ChartPicture;

 private:
  void draw() override {
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
      // The letter goes below where its part is too narrow or has the marker on it.
      constexpr double room = 12;
      const bool hidden = bar.point && std::abs(across(*bar.point) - (a + b) / 2) < room;
      if (c_.letters && b - a >= room && !hidden) {
        text((a + b) / 2, y_ + 13.5, letter(part.series),
             fmt::format("middle bold bare t{}", color(part.series)).c_str());
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
      out_ += fmt::format("<path class=\"point\" d=\"M{:.1f} {:.1f}{}\"/>\n", x, y_ + bar_height / 2,
                          marker_path(3));
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
};

class GridPicture : public ChartPicture {
 public:
  using ChartPicture::ChartPicture;

 private:
  void draw() override {
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
          text(x + step / 2, y + 17.5, words, value < 0 ? "middle bare" : "middle bold bare");
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
};

}  // namespace

std::unique_ptr<ChartPicture> bars_picture(const Chart& chart, int width) {
  return std::make_unique<BarsPicture>(chart, width);
}

std::unique_ptr<ChartPicture> grid_picture(const Chart& chart, int width) {
  return std::make_unique<GridPicture>(chart, width);
}

}  // namespace mendworth
