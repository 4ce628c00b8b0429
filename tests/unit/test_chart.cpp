#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <random>
#include <string>
#include <vector>

#include "render/chart_scale.hpp"
#include "render/document.hpp"
#include "render/layout.hpp"
#include "support/near.hpp"

using namespace mendworth;

namespace {

// Well-formed: every tag is closed in turn, no quote or ampersand is loose. Gives the first thing that is wrong.
std::string trouble_in_markup(const std::string& text) {
  std::vector<std::string> open;
  for (std::size_t at = 0; at < text.size();) {
    if (text[at] == '&') {
      const std::size_t end = text.find(';', at);
      if (end == std::string::npos || end - at > 6) return "loose ampersand";
    }
    if (text[at] != '<') {
      if (text[at] == '>') return "loose >";
      ++at;
      continue;
    }
    const std::size_t end = text.find('>', at);
    if (end == std::string::npos) return "tag without end";
    const std::string tag = text.substr(at + 1, end - at - 1);
    if (std::count(tag.begin(), tag.end(), '"') % 2 != 0) return "odd quotes in " + tag;
    const std::string name = tag.substr(0, tag.find(' '));
    if (name.starts_with('/')) {
      if (open.empty() || open.back() != name.substr(1)) return "closed out of turn: " + name;
      open.pop_back();
    } else if (!tag.ends_with('/')) {
      open.push_back(name);
    }
    at = end + 1;
  }
  return open.empty() ? "" : "left open: " + open.back();
}

struct Box {
  double left, top, right, bottom;
  std::string words;
};

// Where the texts of a picture are, by how wide they come out at the most.
std::vector<Box> texts_of(const std::string& svg) {
  std::vector<Box> boxes;
  for (std::size_t at = svg.find("<text"); at != std::string::npos; at = svg.find("<text", at + 1)) {
    double x = 0, y = 0;
    REQUIRE(std::sscanf(svg.c_str() + at, "<text x=\"%lf\" y=\"%lf\"", &x, &y) == 2);
    const std::size_t end = svg.find('>', at);
    const std::string tag = svg.substr(at, end - at);
    const std::string words = svg.substr(end + 1, svg.find('<', end) - end - 1);
    const double width = text_width(words, 13);
    const double left = tag.find("middle") != std::string::npos ? x - width / 2
                        : tag.find("end") != std::string::npos  ? x - width
                                                                : x;
    boxes.push_back({left, y - 10, left + width, y + 3, words});
  }
  return boxes;
}

void check_texts(const std::string& svg, double width) {
  double height = 0;
  const std::size_t box = svg.find("viewBox=\"0 0 ");
  REQUIRE(std::sscanf(svg.c_str() + box, "viewBox=\"0 0 %*d %lf", &height) == 1);
  const std::vector<Box> boxes = texts_of(svg);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    CAPTURE(boxes[i].words);
    CHECK(boxes[i].left >= -0.5);
    CHECK(boxes[i].right <= width + 0.5);
    CHECK(boxes[i].top >= 0);
    CHECK(boxes[i].bottom <= height + 0.5);
    for (std::size_t j = 0; j < i; ++j) {
      const bool apart = boxes[i].right <= boxes[j].left + 0.2 || boxes[j].right <= boxes[i].left + 0.2 ||
                         boxes[i].bottom <= boxes[j].top + 0.2 || boxes[j].bottom <= boxes[i].top + 0.2;
      if (!apart) CAPTURE(boxes[j].words);
      CHECK(apart);
    }
  }
}

using Lab = std::array<double, 3>;
using Color = std::array<double, 3>;  // linear light

Color light_of(const char* color) {
  Color light{};
  for (std::size_t i = 0; i < 3; ++i) {
    const double value = static_cast<double>(std::stoi(std::string(color + 1 + 2 * i, 2), nullptr, 16)) / 255;
    light[i] = value <= 0.04045 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
  }
  return light;
}

// CIE 1976 L*a*b* of linear sRGB, white point D65.
Lab lab_of(const Color& c) {
  const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
  const double x = f((0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.95047);
  const double y = f(0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]);
  const double z = f((0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.08883);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

// As an eye without one receptor sees it: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, A physiologically-based
// model for simulation of color vision deficiency, IEEE Transactions on Visualization and Computer Graphics 15 (2009),
// severity 1.
constexpr std::array<std::array<double, 9>, 3> eyes = {
    {{1, 0, 0, 0, 1, 0, 0, 0, 1},
     {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
     {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881}}};

Color seen_by(const std::array<double, 9>& eye, const Color& c) {
  Color seen{};
  for (std::size_t i = 0; i < 3; ++i)
    seen[i] = std::clamp(eye[3 * i] * c[0] + eye[3 * i + 1] * c[1] + eye[3 * i + 2] * c[2], 0.0, 1.0);
  return seen;
}

std::string random_words(std::mt19937& random, int most) {
  std::string words;
  const int count = std::uniform_int_distribution(1, most)(random);
  for (int i = 0; i < count; ++i)
    words += std::uniform_int_distribution(0, 5)(random) == 0 ? ' ' : static_cast<char>('A' + random() % 58);
  return words;
}

Chart random_curves(std::mt19937& random) {
  std::uniform_real_distribution<double> unit(0, 1);
  Chart chart{.title = "random", .description = "numbers"};
  const double scale = std::pow(10.0, std::uniform_int_distribution(-6, 9)(random));
  const double shift = unit(random) < 0.3 ? -scale : unit(random) * scale;
  chart.x = {.name = "time", .unit = "years"};
  chart.y = {.name = "money"};
  const int count = std::uniform_int_distribution(1, 6)(random);
  for (int s = 0; s < count; ++s) {
    ChartSeries series{.name = random_words(random, 40), .mark = static_cast<ChartSeries::Mark>(s % 4)};
    const int points = std::uniform_int_distribution(1, 12)(random);
    for (int i = 0; i < points; ++i) series.points.push_back({0.7 * i, shift + scale * unit(random)});
    chart.series.push_back(std::move(series));
  }
  for (int m = std::uniform_int_distribution(0, 4)(random); m > 0; --m)
    chart.marks.push_back({5 * unit(random), random_words(random, 12)});
  return chart;
}

Chart random_bars(std::mt19937& random) {
  std::uniform_real_distribution<double> unit(0, 1);
  Chart chart{.kind = Chart::Kind::bars, .title = "random", .description = "numbers"};
  chart.x = {.name = "money", .unit = "EUR"};
  chart.y = {.name = "course"};
  chart.letters = unit(random) < 0.5;
  const auto series = static_cast<std::size_t>(std::uniform_int_distribution(1, 13)(random));
  for (std::size_t s = 0; s < series; ++s) chart.series.push_back({.name = random_words(random, 30)});
  for (int b = std::uniform_int_distribution(1, 8)(random); b > 0; --b) {
    ChartBar bar{.label = random_words(random, 60), .note = random_words(random, 8)};
    double up = 0, down = 0;
    for (std::size_t s = 0; s < series; ++s) {
      const double part = std::pow(10.0, 4 * unit(random)) * (unit(random) < 0.2 ? -1 : 1);
      double& end = part < 0 ? down : up;
      bar.segments.push_back({s, end, end + part, part});
      end += part;
    }
    bar.point = up + down;
    chart.bars.push_back(std::move(bar));
  }
  return chart;
}

}  // namespace

TEST_CASE("round ticks: steps of 1, 2 and 5, as fine as may be") {
  // derived: 0 to 97 in at most five steps: 20 gives five of them, 10 gives ten.
  const Ticks ticks = round_ticks(0, 97, 5);
  CHECK(test::near_abs(ticks.step, 20, 1e-12));
  CHECK(ticks.count == 5);
  CHECK(test::near_abs(ticks.last(), 100, 1e-9));
  // 0.3 to 0.7: steps of 0.1 lie exactly on both ends.
  const Ticks small = round_ticks(0.3, 0.7, 4);
  CHECK(test::near_rel(small.step, 0.1, 1e-12));
  CHECK(test::near_rel(small.at(0), 0.3, 1e-12));
  CHECK(small.count == 4);
  // -35 to 60: at most four steps of 50 from -50 to 100.
  const Ticks signs = round_ticks(-35, 60, 4);
  CHECK(test::near_abs(signs.step, 50, 1e-12));
  CHECK(test::near_abs(signs.at(0), -50, 1e-12));
  CHECK(signs.at(1) == 0);
  CHECK(round_ticks(0, 2, 5, true).step == 1);
}

TEST_CASE("round ticks take in any range, and their names tell them apart") {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> unit(-1, 1);
  for (int i = 0; i < 2000; ++i) {
    const double scale = std::pow(10.0, 14 * unit(random));
    const double a = scale * unit(random), b = i % 7 == 0 ? a : scale * unit(random);
    const double low = std::min(a, b), high = std::max(a, b);
    const int most = 2 + static_cast<int>(random() % 10);
    CAPTURE(low);
    CAPTURE(high);
    const Ticks ticks = round_ticks(low, high, most);
    CHECK(ticks.count >= 1);
    CHECK(ticks.count <= most);
    CHECK(ticks.at(0) <= low + 1e-8 * ticks.step);
    CHECK(ticks.last() >= high - 1e-8 * ticks.step);
    const double leading = ticks.step / std::pow(10.0, std::floor(std::log10(ticks.step) + 1e-9));
    CHECK((std::abs(leading - 1) < 1e-6 || std::abs(leading - 2) < 1e-6 || std::abs(leading - 5) < 1e-6));
    if (scale > 1e-8) {
      for (int k = 0; k < ticks.count; ++k)
        CHECK(tick_text({}, ticks.at(k), ticks.step) != tick_text({}, ticks.at(k + 1), ticks.step));
    }
  }
}

TEST_CASE("what is spread out keeps its order, does not overlap and stays inside") {
  std::mt19937 random(6);
  std::uniform_real_distribution<double> unit(0, 1);
  for (int i = 0; i < 500; ++i) {
    std::vector<double> wanted, heights;
    double all = 0;
    for (int k = 1 + static_cast<int>(random() % 9); k > 0; --k) {
      wanted.push_back(120 * unit(random) - 10);
      heights.push_back(1 + 10 * unit(random));
      all += heights.back();
    }
    const double high = std::max(100.0, all);
    const std::vector<double> centres = spread_out(wanted, heights, 0, high);
    for (std::size_t a = 0; a < wanted.size(); ++a) {
      CHECK(centres[a] - heights[a] / 2 >= -1e-9);
      CHECK(centres[a] + heights[a] / 2 <= high + 1e-9);
      for (std::size_t b = 0; b < wanted.size(); ++b) {
        if (wanted[a] < wanted[b]) CHECK(centres[b] - centres[a] >= (heights[a] + heights[b]) / 2 - 1e-9);
      }
    }
  }
  // One alone stands where it is wanted; two that want one place stand on either side of it.
  CHECK(spread_out({40}, {10}, 0, 100)[0] == 40);
  CHECK(spread_out({50, 50}, {10, 10}, 0, 100) == std::vector<double>{45, 55});
}

TEST_CASE("charts of random numbers: well-formed, no text is cut off or written over") {
  std::mt19937 random(7);
  for (int i = 0; i < 120; ++i) {
    CAPTURE(i);
    const Chart chart = i % 2 == 0 ? random_curves(random) : random_bars(random);
    for (const int width : {340, 760}) {
      CAPTURE(width);
      const std::string svg = chart_svg(chart, width);
      CHECK(trouble_in_markup(svg) == "");
      CHECK(svg.find("nan") == std::string::npos);
      check_texts(svg, width);
    }
    CHECK(trouble_in_markup(chart_svg_file(chart, 760)) == "");
    for (const int width : {40, 78}) {
      for (const std::string& line : chart_text(chart, width, i % 4 < 2)) {
        CAPTURE(line);
        CHECK(display_width(line) <= width);
      }
    }
  }
}

TEST_CASE("a letter is not hidden by the marker of the total, nor the name of a line by another line") {
  Chart bars{
      .kind = Chart::Kind::bars, .title = "bars", .x = {.name = "cost", .reach = {0}}, .letters = true};
  bars.series = {{.name = "work"}, {.name = "parts"}};
  bars.bars = {{.label = "a", .segments = {{0, 0, 10, 10}, {1, 10, 20, 10}}, .point = 15}};
  const std::string below = "\"middle\">b</text>";
  CHECK(chart_svg(bars, 760).find(below) != std::string::npos);
  bars.bars[0].point = 20;
  CHECK(chart_svg(bars, 760).find(below) == std::string::npos);

  Chart lines{.title = "lines", .x = {.name = "price"}, .y = {.name = "saving"}};
  lines.series = {{.name = "saving", .points = {{0, 1}, {10, 2}}}};
  lines.marks = {{4, "27 pieces in place of 28"}, {4.5, "the verdict turns"}};
  const std::string svg = chart_svg(lines, 760);
  CHECK(svg.rfind("class=\"mark\"") < svg.find("27 pieces"));
  CHECK(svg.rfind("class=\"mark\"") < svg.find("the verdict turns"));
}

TEST_CASE("the numbers of a chart are all in its table") {
  Chart chart{.name = "money", .title = "t", .description = "d"};
  chart.x = {.name = "time", .unit = "years"};
  chart.y = {.name = "cost", .unit = "EUR"};
  chart.series = {{.name = "repair",
                   .points = {{0, 10, 8, 12}, {1, 20.5, 15, 25}},
                   .low_name = "P10",
                   .high_name = "P90"},
                  {.name = "replace", .points = {{0, 30}, {1, 31}}}};
  const Table table = chart_numbers(chart);
  CHECK(table.name == "money");
  REQUIRE(table.columns.size() == 5);
  CHECK(table.columns[0].heading == "time (years)");
  REQUIRE(table.rows.size() == 2);
  CHECK(table.rows[1].cells == std::vector<std::string>{"1.00", "20.50", "15.00", "25.00", "31.00"});
}

TEST_CASE("the table of a histogram has its columns in their order, whichever side each is on") {
  Chart chart{.name = "spread", .title = "t", .description = "d"};
  chart.x = {.name = "saving", .unit = "EUR"};
  chart.y = {.name = "share of futures", .share = true};
  chart.column_width = 10;
  chart.series = {{.name = "saves", .mark = ChartSeries::Mark::columns, .points = {{0, 0.5}, {10, 0.25}}},
                  {.name = "loses", .mark = ChartSeries::Mark::columns, .points = {{-10, 0.25}}}};
  const Table table = chart_numbers(chart);
  REQUIRE(table.rows.size() == 3);
  CHECK(table.rows[0].cells == std::vector<std::string>{"-10.00", "0.00", "25 %"});
  CHECK(table.rows[2].cells == std::vector<std::string>{"10.00", "20.00", "25 %"});
}

TEST_CASE("the colours of series are told apart by any eye and from their ground") {
  for (const bool dark : {false, true}) {
    CAPTURE(dark);
    const char* ground = dark ? chart_dark_ground : chart_light_ground;
    const auto& colors = chart_colors();
    for (std::size_t i = 0; i < colors.size(); ++i) {
      const char* one = dark ? colors[i].dark : colors[i].light;
      CAPTURE(one);
      // Of a graphical object (Web Content Accessibility Guidelines 2.2, 1.4.11); of the letters on it (1.4.3).
      CHECK(contrast(one, ground) >= 3.0);
      CHECK(std::max(contrast(one, "#ffffff"), contrast(one, "#000000")) >= 4.5);
      for (std::size_t j = 0; j < i; ++j) {
        const char* other = dark ? colors[j].dark : colors[j].light;
        CAPTURE(other);
        for (const auto& eye : eyes) {
          const Lab a = lab_of(seen_by(eye, light_of(one))), b = lab_of(seen_by(eye, light_of(other)));
          // A just noticeable difference is about 2.3 (M. Mahy and others, Color Research and Application 19, 1994).
          CHECK(std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) >= 25);
        }
      }
    }
  }
  // published: black on white is 21 to 1 (the same guidelines).
  CHECK(test::near_abs(contrast("#000000", "#ffffff"), 21, 1e-9));
}
