#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <cstdlib>

#include "render/chart_scale.hpp"

namespace mendworth {

namespace {

// Chosen by search: any two are far apart for a normal eye, without the long-wave and without the middle-wave receptor
// (the test of the colours says how far), and each stands out from its ground by 3 to 1 or more.
const std::vector<ChartColor> colors = {{"#0533a8", "#857cfc", ""},
                                        {"#c38218", "#ffbe34", "9 4"},
                                        {"#086459", "#047198", "2 4"},
                                        {"#86200a", "#c13850", "12 4 2 4"},
                                        {"#238ffe", "#b4bcfe", "5 3"},
                                        {"#969261", "#c8cc7a", "16 5"},
                                        {"#393a70", "#bb5300", "6 3 2 3 2 3"},
                                        {"#6095be", "#eba8b3", "3 2"}};

// Black or white, whichever is read more easily on it.
const char* letter_on(const char* color) {
  return contrast(color, "#ffffff") >= contrast(color, "#000000") ? "#ffffff" : "#000000";
}

std::string color_rules(bool dark) {
  std::string text;
  for (std::size_t i = 0; i < colors.size(); ++i) {
    const char* color = dark ? colors[i].dark : colors[i].light;
    text += fmt::format(" --s{0}: {1}; --t{0}: {2};", i, color, letter_on(color));
  }
  return text;
}

}  // namespace

const std::vector<ChartColor>& chart_colors() { return colors; }

double luminance(const char* color) {
  const auto channel = [&](std::size_t at) {
    const std::string two{color[at], color[at + 1]};
    const double value = static_cast<double>(std::strtol(two.c_str(), nullptr, 16)) / 255;
    return value <= 0.04045 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

double contrast(const char* one, const char* other) {
  const double a = luminance(one) + 0.05;
  const double b = luminance(other) + 0.05;
  return std::max(a, b) / std::min(a, b);
}

namespace {

constexpr const char* ground_rules[] = {
    "--ground: #ffffff; --word: #1b1f24; --word-soft: #4d5661; --grid: #d5dae0;",
    "--ground: #14181d; --word: #e8ecf0; --word-soft: #aab4bf; --grid: #39424d;"};

std::string class_rules() {
  std::string text =
      ".chart text { fill: var(--word); stroke: var(--ground); stroke-width: 3px; stroke-linejoin: round; "
      "paint-order: stroke; font: 13px system-ui, -apple-system, \"Segoe UI\", "
      "Roboto, \"Noto Sans\", \"Liberation Sans\", sans-serif; }\n"
      ".chart .soft { fill: var(--word-soft); }\n"
      ".chart .bold { font-weight: 700; }\n"
      ".chart .bare { stroke: none; }\n"
      ".chart .middle { text-anchor: middle; }\n"
      ".chart .end { text-anchor: end; }\n"
      ".chart .under { fill: var(--ground); }\n"
      ".chart .grid { stroke: var(--grid); fill: none; }\n"
      ".chart .axis { stroke: var(--word-soft); fill: none; }\n"
      ".chart .mark { stroke: var(--word); fill: none; stroke-dasharray: 3 3; }\n"
      ".chart .halo { stroke: var(--ground); fill: none; stroke-width: 3; stroke-opacity: .7; }\n"
      ".chart .zero { stroke: var(--word); fill: none; stroke-width: 1.6; }\n"
      ".chart .line { fill: none; stroke-width: 2.2; stroke-linejoin: round; }\n"
      ".chart .band { fill-opacity: .14; stroke-width: .7; }\n"
      ".chart .open { fill: var(--ground); stroke-width: 1.6; }\n"
      ".chart .bar, .chart .cell { stroke: var(--ground); }\n"
      ".chart .point { fill: var(--ground); stroke: var(--word); stroke-width: 1.8; }\n"
      ".chart .leader { fill: none; stroke-width: .8; }\n";
  for (std::size_t i = 0; i < colors.size(); ++i) {
    text += fmt::format(
        ".chart .s{0} {{ stroke: var(--s{0}); }} .chart .f{0} {{ fill: var(--s{0}); }} .chart text.t{0} {{ "
        "fill: var(--t{0}); }}\n",
        i);
  }
  return text;
}

}  // namespace

const std::string& chart_rules() {
  static const std::string rules = fmt::format(
      ".chart {{ {}{} }}\n@media screen and (prefers-color-scheme: dark) {{ .chart {{ {}{} }} }}\n{}",
      ground_rules[0], color_rules(false), ground_rules[1], color_rules(true), class_rules());
  return rules;
}

std::string chart_rules_of_file() {
  std::string rules = class_rules();
  const std::string light = ground_rules[0] + color_rules(false);
  for (std::size_t at = light.find("--"); at != std::string::npos; at = light.find("--", at + 2)) {
    const std::size_t colon = light.find(": ", at);
    const std::string name = "var(" + light.substr(at, colon - at) + ")";
    const std::string value = light.substr(colon + 2, 7);
    for (std::size_t use = rules.find(name); use != std::string::npos; use = rules.find(name, use))
      rules.replace(use, name.size(), value);
  }
  return rules;
}

}  // namespace mendworth
