#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "render/chart.hpp"

/// Where things of a chart stand: scales, round ticks, room for text.
namespace mendworth {

/// Steps of 1, 2 or 5 times a power of ten.
struct Ticks {
  double step = 1;
  double first = 0;  ///< a multiple of the step, at or below what is to be shown
  int count = 1;     ///< steps from the first to the last
  [[nodiscard]] double at(int i) const { return step * std::round(first / step + i); }
  [[nodiscard]] double last() const { return at(count); }
};

/// The finest ticks from `low` to `high` with at most `most` >= 2 steps; with `whole` no step is below 1. low <= high,
/// both finite.
[[nodiscard]] Ticks round_ticks(double low, double high, int most, bool whole = false);
/// Round values within low .. high > 0 on a logarithmic scale, at most `most` of them where any choice allows that.
[[nodiscard]] std::vector<double> log_ticks(double low, double high, int most);
/// Shares that have failed, as a grid of Weibull paper has them, from `low` to `high`.
[[nodiscard]] std::vector<double> failed_ticks(double low, double high);
/// A tick's value with the digits that its step asks for, and the same where there is no step.
[[nodiscard]] std::string tick_text(const ChartAxis& axis, double value, double step = 0);

/// What is drawn evenly: the value itself, its logarithm, ln(-ln(1 - share)).
[[nodiscard]] double on_scale(ChartAxis::Scale scale, double value);

/// How wide a text comes out at this height in a plain font, rather too wide than too narrow.
[[nodiscard]] double text_width(std::string_view text, double height);
/// In lines no wider than `width`, at most so many of them, the last one ending in dots where there would be more; a word
/// that is longer is cut.
[[nodiscard]] std::vector<std::string> text_lines(const std::string& text, double width, double height,
                                                  std::size_t most_lines = 99);

/// Centres of things of these heights that do not overlap between `low` and `high`, each near to where it is wanted, in
/// the order in which they are wanted. They begin at `low` where there is not enough room.
[[nodiscard]] std::vector<double> spread_out(const std::vector<double>& wanted,
                                             const std::vector<double>& heights, double low, double high);

/// Lanes for spans that begin and end at these places so that no two in a lane overlap: the lowest free one for each.
struct Stretch {
  double from = 0, to = 0;
};
[[nodiscard]] std::vector<int> lanes_of(const std::vector<Stretch>& spans, double gap);

/// A colour of a series on a light and on a dark ground, and the dash of its line.
struct ChartColor {
  const char* light;
  const char* dark;
  const char* dash;
};
[[nodiscard]] const std::vector<ChartColor>& chart_colors();
/// Relative luminance of "#rrggbb" and the contrast of two such colours, 1 .. 21 (Web Content Accessibility Guidelines 2).
[[nodiscard]] double luminance(const char* color);
[[nodiscard]] double contrast(const char* one, const char* other);
/// The rules for a file of its own, on a light ground, in words that every program that reads SVG knows.
[[nodiscard]] std::string chart_rules_of_file();
inline constexpr const char* chart_light_ground = "#ffffff";
inline constexpr const char* chart_dark_ground = "#14181d";

}  // namespace mendworth
