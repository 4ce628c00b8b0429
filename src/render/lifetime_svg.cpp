#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/render.hpp"
#include "numeric/distributions.hpp"
#include "render/layout.hpp"
#include "render/lifetime_words.hpp"
#include "render/number_text.hpp"

// Weibull probability paper: with x = ln age and y = ln(-ln R) every Weibull law is a straight line whose slope is the
// shape. All lengths are in the image's own units.
namespace mendworth {

namespace {

constexpr double drawing_width = 760;
constexpr int heading_columns = 66, line_columns = 104;  // characters that fit beside the margins
constexpr double plot_left = 80, plot_right = drawing_width - 30;
constexpr double plot_top = 70, plot_bottom = 500;
constexpr double legend_top = plot_bottom + 64, legend_line = 22;
constexpr int legend_columns = 92;
constexpr double least_distance = 1.0;  ///< of two points that are both drawn
constexpr int band_points = 61;

/// Percentages that failed, from which the ones within the picture become gridlines.
constexpr std::array<double, 19> grid_percents = {0.0001, 0.001, 0.01, 0.1, 0.2, 0.5, 1,    2,     5,     10,
                                                  20,     50,    63.2, 80,  90,  99,  99.9, 99.99, 99.999};

struct Look {
  const char* color;
  const char* dash;
};
// Colours that are told apart with any colour vision (M. Okabe and K. Ito, Color Universal Design, 2008), the
// lightest of them left out.
constexpr std::array<Look, 6> looks = {{{"#0072B2", ""},
                                        {"#D55E00", "9 4"},
                                        {"#007A5A", "2 4"},
                                        {"#A63D7E", "12 4 2 4"},
                                        {"#000000", "5 3"},
                                        {"#8A6100", "16 5"}}};
constexpr std::size_t marker_shapes = 7;  ///< differs from the number of looks, so that pairs repeat late

std::string xml_text(std::string_view text) {
  std::string out;
  const std::string safe = printable(text);
  for (std::size_t i = 0; i < safe.size(); ++i) {
    // U+FFFE and U+FFFF are valid UTF-8, but XML has no place for them.
    const std::string_view three = std::string_view(safe).substr(i, 3);
    if (three == "\xEF\xBF\xBE" || three == "\xEF\xBF\xBF") {
      out += "\xEF\xBF\xBD";
      i += 2;
      continue;
    }
    switch (safe[i]) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      default: out += safe[i];
    }
  }
  return out;
}

std::string on_one_line(const std::string& text, int columns = legend_columns) {
  const auto lines = wrapped(printable(text), columns);
  return lines.size() == 1 ? lines.front() : lines.front() + " ...";
}

double paper_y(double working) { return std::log(-std::log(working)); }
double paper_y_of_failed(double failed) { return std::log(-std::log1p(-failed)); }

struct Range {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void take(double value) {
    if (!std::isfinite(value)) return;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  [[nodiscard]] bool empty() const { return low > high; }
  void widen(double by) {
    low -= by;
    high += by;
  }
};

struct Point {
  double x = 0, y = 0;  ///< on paper: ln age, ln(-ln R)
};

/// Half way down each step: where the curve of a law passes if it passes well (W. Q. Meeker and L. A. Escobar,
/// Statistical Methods for Reliability Data, 1998, chapter 6). So the last step, down to 0, has a place too.
std::vector<Point> points_of(const SurvivalCurve& curve) {
  std::vector<Point> points;
  double before = 1;
  for (const SurvivalStep& step : curve.steps) {
    const double middle = (before + step.working) / 2;
    before = step.working;
    if (step.time > 0 && middle > 0 && middle < 1) points.push_back({std::log(step.time), paper_y(middle)});
  }
  return points;
}

class Paper {
 public:
  explicit Paper(const Lifetime& l) : lifetime_(l) {
    for (const GroupLifetime& group : l.groups) {
      points_.push_back(points_of(group.curve));
      for (const Point& point : points_.back()) {
        x_.take(point.x);
        y_.take(point.y);
      }
      if (group.fit) {
        x_.take(std::log(group.fit->b10.value));
        x_.take(std::log(group.fit->scale.value));
      }
    }
    if (x_.empty()) x_.take(0);
    x_.widen(std::max(0.25, 0.06 * (x_.high - x_.low)));
    y_.take(paper_y_of_failed(0.01));
    y_.take(paper_y_of_failed(0.99));
    y_.widen(0.1);
  }

  std::string drawn() {
    const double height = legend_top + legend_line * static_cast<double>(lifetime_.groups.size()) + 24;
    svg_ = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" "
        "height=\"{1:.0f}\" role=\"img\" aria-labelledby=\"title description\" font-family=\"sans-serif\" "
        "font-size=\"13\">\n",
        drawing_width, height);
    svg_ += fmt::format("<title id=\"title\">{}</title>\n<desc id=\"description\">{}</desc>\n",
                        xml_text(title()), xml_text(description()));
    svg_ += fmt::format(
        "<defs><clipPath id=\"paper\"><rect x=\"{}\" y=\"{}\" width=\"{}\" "
        "height=\"{}\"/></clipPath></defs>\n",
        plot_left, plot_top, plot_right - plot_left, plot_bottom - plot_top);
    svg_ += "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";
    text(plot_left, 30, "start", on_one_line(heading(), heading_columns),
         "font-size=\"17\" font-weight=\"bold\"");
    const std::string file = lifetime_.source_name.substr(lifetime_.source_name.rfind('/') + 1);
    const std::string paper =
        fmt::format("Weibull probability paper; band: {} limits of the law, normal approximation. Record: {}",
                    confidence_text(lifetime_.confidence), file);
    text(plot_left, 52, "start", on_one_line(paper, line_columns));
    grid();
    for (std::size_t i = 0; i < lifetime_.groups.size(); ++i) group(i);
    legend();
    return svg_ + "</svg>\n";
  }

 private:
  [[nodiscard]] std::string heading() const {
    return lifetime_.part.empty() ? "How long the pieces last" : lifetime_.part + ": how long they last";
  }
  [[nodiscard]] std::string title() const { return heading() + " (" + lifetime_.source_name + ")"; }

  [[nodiscard]] std::string description() const {
    std::string words = fmt::format("Share failed against age in {}. ", name_of(lifetime_.unit));
    for (const GroupLifetime& g : lifetime_.groups) words += summary(g) + ". ";
    words.pop_back();
    return words;
  }

  [[nodiscard]] std::string summary(const GroupLifetime& g) const {
    std::string words = g.name.empty() ? "" : g.name + ": ";
    words += fmt::format("{} failed, {} working", number_text(failures_of(g)), number_text(g.working));
    if (!g.fit) return words + ", no law";
    return words + fmt::format(", shape {}, median {} {}", life_text(g.fit->shape.value),
                               life_text(g.fit->median.value), name_of(lifetime_.unit));
  }

  [[nodiscard]] double across(double x) const {
    return plot_left + (x - x_.low) / (x_.high - x_.low) * (plot_right - plot_left);
  }
  [[nodiscard]] double down(double y) const {
    return plot_bottom - (y - y_.low) / (y_.high - y_.low) * (plot_bottom - plot_top);
  }

  void text(double x, double y, const char* anchor, const std::string& words, const std::string& more = "") {
    svg_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\"{}{}>{}</text>\n", x, y, anchor,
                        more.empty() ? "" : " ", more, xml_text(with_plain_spaces(words)));
  }

  void gridline(double x1, double y1, double x2, double y2) {
    svg_ +=
        fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"#cccccc\"/>\n",
                    x1, y1, x2, y2);
  }

  void grid() {
    for (const double percent : grid_percents) {
      const double y = paper_y_of_failed(percent / 100);
      if (y < y_.low || y > y_.high) continue;
      gridline(plot_left, down(y), plot_right, down(y));
      text(plot_left - 8, down(y) + 4, "end", decimals_text(percent, 4));
    }
    for (const double age : age_ticks()) {
      const double x = across(std::log(age));
      gridline(x, plot_top, x, plot_bottom);
      text(x, plot_bottom + 18, "middle", life_text(age));
    }
    svg_ +=
        fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"#333333\"/>\n",
                    plot_left, plot_top, plot_right - plot_left, plot_bottom - plot_top);
    text((plot_left + plot_right) / 2, plot_bottom + 40, "middle",
         fmt::format("age ({})", name_of(lifetime_.unit)));
    const double middle = (plot_top + plot_bottom) / 2;
    text(22, middle, "middle", "failed (%)", fmt::format("transform=\"rotate(-90 22 {})\"", middle));
  }

  /// Round ages within the picture: as many as are easily read.
  [[nodiscard]] std::vector<double> age_ticks() const {
    const auto with = [&](const std::vector<double>& factors) {
      std::vector<double> ages;
      const int first = static_cast<int>(std::floor(x_.low / std::log(10.0)));
      const int last = static_cast<int>(std::ceil(x_.high / std::log(10.0)));
      for (int power = first; power <= last; ++power) {
        for (const double factor : factors) {
          const double age = factor * std::pow(10.0, power);
          if (std::log(age) >= x_.low && std::log(age) <= x_.high) ages.push_back(age);
        }
      }
      return ages;
    };
    constexpr std::size_t most = 9;
    constexpr std::size_t enough = 4;
    std::vector<double> best = with({1});
    for (const auto& factors :
         {std::vector<double>{1, 2, 5}, std::vector<double>{1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9}}) {
      if (best.size() >= enough) break;
      const std::vector<double> finer = with(factors);
      if (finer.size() <= most) best = finer;
    }
    return best;
  }

  void group(std::size_t i) {
    const Look& look = looks[i % looks.size()];
    const GroupLifetime& g = lifetime_.groups[i];
    svg_ += fmt::format("<g clip-path=\"url(#paper)\" stroke=\"{0}\" fill=\"{0}\">\n", look.color);
    if (g.fit) {
      band(*g.fit);
      law_line(*g.fit, look);
    }
    Point last{-1e9, -1e9};
    for (const Point& point : points_[i]) {
      const Point here{across(point.x), down(point.y)};
      if (std::hypot(here.x - last.x, here.y - last.y) < least_distance) continue;
      marker(i, here.x, here.y);
      last = here;
    }
    svg_ += "</g>\n";
  }

  void law_line(const WeibullFit& fit, const Look& look) {
    const auto y_at = [&](double x) { return fit.shape.value * (x - std::log(fit.scale.value)); };
    law_stroke(across(x_.low), down(y_at(x_.low)), across(x_.high), down(y_at(x_.high)), look);
  }

  void law_stroke(double x1, double y1, double x2, double y2, const Look& look) {
    svg_ += fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke-width=\"2\"{}/>\n", x1, y1, x2,
        y2, *look.dash == '\0' ? "" : fmt::format(" stroke-dasharray=\"{}\"", look.dash));
  }

  /// Limits of R(x) that are symmetric in y = shape (ln x - ln scale), by the delta method.
  void band(const WeibullFit& fit) {
    const double z = normal_quantile(0.5 + lifetime_.confidence / 2);
    std::string corners;  // along the upper limit, and back along the lower one
    const auto add = [&](int i, double side) {
      const double x = x_.low + (x_.high - x_.low) * i / (band_points - 1);
      const double y = fit.shape.value * (x - std::log(fit.scale.value));
      const double variance = fit.shape.value * fit.shape.value * fit.var_log_scale -
                              2 * fit.shape.value * y * fit.cov_log_scale_log_shape +
                              y * y * fit.var_log_shape;
      const double limit = y + side * z * std::sqrt(std::max(0.0, variance));
      corners +=
          fmt::format("{}{:.1f},{:.1f}", corners.empty() ? "" : " ", across(x), within_reach(down(limit)));
    };
    for (int i = 0; i < band_points; ++i) add(i, 1);
    for (int i = band_points - 1; i >= 0; --i) add(i, -1);
    svg_ += fmt::format("<polygon points=\"{}\" stroke=\"none\" fill-opacity=\"0.12\"/>\n", corners);
  }

  /// Coordinates far outside are of no use to anybody who draws.
  static double within_reach(double coordinate) {
    return std::clamp(coordinate, -10 * drawing_width, 10 * drawing_width);
  }

  void marker(std::size_t i, double x, double y) {
    constexpr double r = 4.5;
    const auto path = [&](const std::string& d, bool filled) {
      svg_ += fmt::format("<path d=\"{}\" stroke-width=\"1.5\"{}/>\n", d, filled ? "" : " fill=\"none\"");
    };
    const auto polygon = [&](std::initializer_list<Point> corners, bool filled) {
      std::string d;
      for (const Point& c : corners)
        d += fmt::format("{}{:.1f} {:.1f}", d.empty() ? 'M' : 'L', x + r * c.x, y + r * c.y);
      path(d + 'Z', filled);
    };
    switch (i % marker_shapes) {
      case 0: svg_ += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{}\"/>\n", x, y, r - 0.5); break;
      case 1: polygon({{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}, false); break;
      case 2: polygon({{0, -1.2}, {1.1, 0.9}, {-1.1, 0.9}}, true); break;
      case 3: polygon({{0, -1.3}, {1.3, 0}, {0, 1.3}, {-1.3, 0}}, false); break;
      case 4:
        path(fmt::format("M{:.1f} {:.1f}h{:.1f}m{:.1f} {:.1f}v{:.1f}", x - r, y, 2 * r, -r, -r, 2 * r),
             false);
        break;
      case 5: polygon({{0, 1.2}, {1.1, -0.9}, {-1.1, -0.9}}, false); break;
      default: polygon({{-1, -1}, {1, 1}, {0, 0}, {1, -1}, {-1, 1}, {0, 0}}, false); break;
    }
  }

  void legend() {
    for (std::size_t i = 0; i < lifetime_.groups.size(); ++i) {
      const Look& look = looks[i % looks.size()];
      const double y = legend_top + legend_line * static_cast<double>(i);
      svg_ += fmt::format("<g stroke=\"{0}\" fill=\"{0}\">\n", look.color);
      if (lifetime_.groups[i].fit) law_stroke(plot_left, y, plot_left + 56, y, look);
      marker(i, plot_left + 28, y);
      svg_ += "</g>\n";
      text(plot_left + 68, y + 4, "start", on_one_line(summary(lifetime_.groups[i])));
    }
  }

  const Lifetime& lifetime_;
  std::vector<std::vector<Point>> points_;
  Range x_, y_;
  std::string svg_;
};

}  // namespace

std::string lifetime_svg(const Lifetime& lifetime) { return Paper(lifetime).drawn(); }

}  // namespace mendworth
