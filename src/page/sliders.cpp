#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "base/plain_number.hpp"
#include "domain/inputs.hpp"
#include "page/answer_view.hpp"
#include "page/case_keys.hpp"
#include "render/answer_words.hpp"

namespace mendworth::page {

namespace {

constexpr std::size_t shown_at_once = 8;
constexpr double steps_of_a_slider = 200;

/// 1, 2 or 5 times a power of ten, at most `most`.
double round_step(double most) {
  const double power = std::pow(10.0, std::floor(std::log10(most)));
  const double times = most / power;
  return power * (times >= 5 ? 5 : times >= 2 ? 2 : 1);
}

const BreakEven* break_even_for(const Weighing& w, const std::string& key) {
  const auto found = std::ranges::find(w.break_evens, key, &BreakEven::key);
  return found == w.break_evens.end() ? nullptr : &*found;
}

struct Scale {
  double low = 0, high = 0, step = 0;
};

/// From the row's ends and the nearest turning value on, with some room beyond, within what the input may be.
Scale scale_of(const SensitivityRow& row, const BreakEven* turn, const Limits& limits) {
  double low = std::min(row.low, row.base), high = std::max(row.high, row.base);
  if (turn != nullptr && !turn->values.empty()) {
    const double nearest = *std::ranges::min_element(
        turn->values, [&](double a, double b) { return std::abs(a - row.base) < std::abs(b - row.base); });
    low = std::min(low, nearest), high = std::max(high, nearest);
  }
  constexpr double room = 0.15;
  const double more = std::max((high - low) * room, std::abs(row.base) * room);
  low = std::max(low - more, std::max(limits.low, limits.least));
  high = std::min(high + more, limits.high);
  if (!(high > low)) return {};
  const double step = round_step((high - low) / steps_of_a_slider);
  return {std::ceil(low / step - 1e-9) * step, std::floor(high / step + 1e-9) * step, step};
}

std::string plain(double value) { return fmt::format("{:.10g}", value); }

struct Turn {
  double value = 0;
  std::string words;
};

/// Where the answer turns: as worked out, or else where a straight line between the ends of the row does.
std::vector<Turn> turns_of(const SensitivityRow& row, const BreakEven* break_even) {
  std::vector<Turn> turns;
  for (std::size_t i = 0; break_even != nullptr && i < break_even->values.size(); ++i)
    turns.push_back({break_even->values[i], turning_value_text(*break_even, i)});
  if (break_even == nullptr && row.turns && row.saving_low * row.saving_high < 0) {
    const double share = row.saving_low / (row.saving_low - row.saving_high);
    const double value = row.low + share * (row.high - row.low);
    turns.push_back({value, "about " + significant_text(value, 2)});
  }
  return turns;
}

/// As ticks of the slider, as marks below it, and in words.
std::string turning_points(const SensitivityRow& row, const BreakEven* break_even, const Scale& scale,
                           const std::string& key) {
  std::string ticks, marks, words;
  for (const Turn& turn : turns_of(row, break_even)) {
    words += (words.empty() ? "turns at " : ", ") + turn.words;
    if (turn.value < scale.low || turn.value > scale.high) continue;
    ticks += fmt::format("<option value=\"{}\" label=\"turns at {}\"></option>", plain(turn.value),
                         number_text(turn.value));
    marks += fmt::format("<path d=\"M{:.2f} 0l-1.2 6h2.4z\"/>",
                         100 * (turn.value - scale.low) / (scale.high - scale.low));
  }
  if (words.empty()) {
    const bool searched = break_even != nullptr;
    words = fmt::format("does not turn from {} to {}", number_text(searched ? break_even->low : row.low),
                        number_text(searched ? break_even->high : row.high));
  }
  return fmt::format(
      "<datalist id=\"t-{}\">{}</datalist>\n<svg viewBox=\"0 0 100 6\" preserveAspectRatio=\"none\" "
      "aria-hidden=\"true\">{}</svg>\n<p class=\"turn\" id=\"w-{}\">{}</p>\n",
      key, ticks, marks, key, html_escaped(words));
}

}  // namespace

std::string sliders_html(const Weighing& w, const input::TomlText& text) {
  std::string first, more;
  std::size_t count = 0;
  for (const SensitivityRow& row : w.sensitivity) {
    const auto place = key_in_text(text, row.key);
    if (!place) continue;
    const Input& input = input_of(row.key);
    const BreakEven* turn = break_even_for(w, row.key);
    const Scale scale = scale_of(row, turn, input.limits);
    if (scale.step <= 0 || scale.high <= scale.low) continue;
    const std::string key = html_escaped(*place);
    std::string one = fmt::format(
        "<div class=\"slider\">\n<label for=\"s-{0}\">{1}</label> <output for=\"s-{0}\">{2}</output>\n"
        "<input type=\"range\" id=\"s-{0}\" data-key=\"{0}\" min=\"{3}\" max=\"{4}\" step=\"{5}\" "
        "value=\"{6}\" list=\"t-{0}\" aria-describedby=\"w-{0}\">\n",
        key, html_escaped(row.label), number_text(row.base), plain(scale.low), plain(scale.high),
        plain(scale.step), plain(row.base));
    one += turning_points(row, turn, scale, key) + "</div>\n";
    (count++ < shown_at_once ? first : more) += one;
  }
  if (!more.empty())
    first += "<details id=\"m-sliders\"><summary>More numbers</summary>\n" + more + "</details>\n";
  return first;
}

}  // namespace mendworth::page
