#include <fmt/format.h>

#include <memory>
#include <string>

#include "render/chart_picture.hpp"
#include "render/document.hpp"
#include "render/layout.hpp"

namespace mendworth {

namespace {

std::string markup_text(const std::string& text) { return html_escaped(one_line(text)); }

std::unique_ptr<ChartPicture> picture(const Chart& chart, int width) {
  switch (chart.kind) {
    case Chart::Kind::bars: return bars_picture(chart, width);
    case Chart::Kind::grid: return grid_picture(chart, width);
    case Chart::Kind::curves: break;
  }
  return curves_picture(chart, width);
}

std::string frame(const Chart& chart, int width, double height, const std::string& more,
                  const std::string& body) {
  return fmt::format(
      "<svg{0} class=\"chart {6}\" viewBox=\"0 0 {1} {2:.0f}\" width=\"{1}\" height=\"{2:.0f}\" "
      "role=\"img\">\n"
      "<title>{3}</title>\n<desc>{4}</desc>\n{5}</svg>\n",
      more, width, height, markup_text(chart.title), markup_text(chart.description), body,
      width < ChartPicture::narrow_page ? "narrow" : "wide");
}

}  // namespace

std::string chart_svg(const Chart& chart, int width) {
  const auto drawing = picture(chart, width);
  const std::string body = drawing->body(0);
  return frame(chart, width, drawing->height(), "", body);
}

std::string chart_svg_file(const Chart& chart, int width) {
  constexpr double title_height = 17, title_line = 22;
  std::string titles;
  double top = 8;
  for (const std::string& line : text_lines(with_plain_spaces(printable(chart.title)),
                                            width - 2 * ChartPicture::margin, title_height * 1.1, 2)) {
    top += title_line;
    titles += fmt::format("<text class=\"bold\" x=\"{}\" y=\"{}\" style=\"font-size: 17px\">{}</text>\n",
                          ChartPicture::margin, top - 6, markup_text(line));
  }
  const auto drawing = picture(chart, width);
  const std::string body = drawing->body(top);
  return frame(chart, width, drawing->height(), " xmlns=\"http://www.w3.org/2000/svg\"",
               "<style>\n" + chart_rules_of_file() +
                   "</style>\n<rect class=\"under\" width=\"100%\" height=\"100%\"/>\n" + titles + body);
}

}  // namespace mendworth
