#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

/// What a picture of numbers shows, whatever draws it: SVG on a screen and on paper, characters on a terminal. Nothing is
/// told by colour alone: series differ by dash and marker as well, parts of a bar by a letter, all by their names.
namespace mendworth {

struct ChartAxis {
  enum class Scale {
    linear,
    logarithmic,
    failed,  ///< a share that has failed by ln(-ln(1 - share)), as Weibull probability paper has it
  };
  std::string name{};
  std::string unit{};  ///< "EUR", "years"; may be empty
  Scale scale = Scale::linear;
  bool share = false;           ///< 0 .. 1, written as percentages
  bool whole = false;           ///< counts: nothing between whole numbers is named
  int digits = 2;               ///< most digits after the point in the table of numbers
  std::vector<double> reach{};  ///< values that the picture takes in, whatever is drawn
};

struct ChartPoint {
  double x = 0, y = 0;
  std::optional<double> low{}, high{};  ///< limits of y
};

/// Points in the order of x.
struct ChartSeries {
  enum class Mark {
    line,
    steps,    ///< y holds from its x to the next one
    points,   ///< with markers, not joined
    dotted,   ///< markers joined by a line
    columns,  ///< from x up to x + Chart::column_width, as high as y
  };
  std::string name{};
  Mark mark = Mark::line;
  std::vector<ChartPoint> points{};
  std::string low_name{}, high_name{};  ///< of the limits: "P10", "P90"; empty: there are none
  std::vector<ChartPoint> fit{};        ///< a line that goes with points, its limits being the band
};

/// A part of a bar.
struct ChartSegment {
  std::size_t series = 0;
  double from = 0, to = 0;
  double value = 0;     ///< what the table of numbers says: the part's length or its end
  std::string label{};  ///< beside its end `to`
};

struct ChartBar {
  std::string label{};
  std::vector<ChartSegment> segments{};
  std::optional<double> point{};  ///< set off by a marker: a total, a median
  std::string note{};             ///< at the end of the bar
};

/// A place of x with a line through it.
struct ChartMark {
  double x = 0;
  std::string label;
  bool strong = false;  ///< what the picture is about: zero
};

struct Chart {
  enum class Kind { curves, bars, grid };
  Kind kind = Kind::curves;
  std::string name{};                 ///< by which --table asks for its numbers
  std::string title{};                ///< what it shows
  std::string description{};          ///< what is to be seen: for who cannot see it
  ChartAxis x{}, y{};                 ///< of bars x is that of the values, y names the bars
  std::vector<ChartSeries> series{};  ///< of bars: names of the parts alone
  std::vector<ChartBar> bars{};
  std::string point_name{};  ///< of the bars' points
  std::vector<ChartMark> marks{};
  double column_width = 0;
  bool letters = false;  ///< of bars: each part bears the letter of its series
  /// Of a grid: by row of y and column of x; x and y give the places in `reach`.
  std::vector<std::vector<double>> cells{};
  std::string cell_name{};
  bool legend = false;      ///< names below, where they are too long to stand beside their lines
  bool only_image = false;  ///< not in plain characters
  int picture_rows = 16;    ///< of curves in plain characters, without the axis

  [[nodiscard]] bool empty() const;
};

/// Its numbers, unrounded to two digits more than anybody reads.
struct Table;
[[nodiscard]] Table chart_numbers(const Chart& chart);

/// The picture for a page so many units wide, its text being 13 units high; everything in it is inside its frame. It has
/// a title, a description and role=img, no ids and no colours of its own but the classes of chart_rules.
[[nodiscard]] std::string chart_svg(const Chart& chart, int width);
/// The same as a file of its own with title, names and colours inside.
[[nodiscard]] std::string chart_svg_file(const Chart& chart, int width);
/// Rules of looks of the classes that chart_svg uses; the colours are custom properties, for a light and a dark ground.
[[nodiscard]] const std::string& chart_rules();

/// The picture in lines of at most `width` >= 40 columns, with axes and names; in ASCII, or with the bars and lines that
/// Unicode has. None if there is nothing to draw.
[[nodiscard]] std::vector<std::string> chart_text(const Chart& chart, int width, bool unicode);

}  // namespace mendworth
