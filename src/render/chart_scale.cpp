#include "render/chart_scale.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>

#include "numeric/round_step.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr double rounding = 1e-9;  // of a step: a value that lies on a tick is not beyond it

std::string step_text(double value, double step) {
  constexpr int most_digits = 6;
  constexpr double largest = 1e12;
  const int digits = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - rounding)));
  if (digits > most_digits || std::abs(value) > largest) return fmt::format("{:.9g}", value);
  return money_text(value, digits);
}

bool is_within_letter(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

}  // namespace

Ticks round_ticks(double low, double high, int most, bool whole) {
  const double magnitude = std::max(std::abs(low), std::abs(high));
  double range = high - low;
  // Values that differ by less than is written of them have no scale between them.
  if (range <= magnitude * 1e-6) {
    range = magnitude > 0 ? 0.1 * magnitude : 1;
    high = low + range;
  }
  double step = std::max(whole ? 1.0 : 0.0, round_step(range / most));
  while (true) {
    const double first = std::floor(low / step + rounding);
    const double last = std::max(first + 1, std::ceil(high / step - rounding));
    if (last - first <= most) return {step, first * step, static_cast<int>(last - first)};
    step = round_step(1.5 * step);
  }
}

std::vector<double> log_ticks(double low, double high, int most) {
  const auto with = [&](const std::vector<double>& factors) {
    std::vector<double> values;
    const int last = static_cast<int>(std::ceil(std::log10(high)));
    for (int power = static_cast<int>(std::floor(std::log10(low))); power <= last; ++power) {
      for (const double factor : factors) {
        const double value = factor * std::pow(10.0, power);
        if (value >= low * (1 - rounding) && value <= high * (1 + rounding)) values.push_back(value);
      }
    }
    return values;
  };
  constexpr std::size_t enough = 4;
  std::vector<double> best = with({1});
  for (const auto& factors :
       {std::vector<double>{1, 2, 5}, std::vector<double>{1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9}}) {
    if (best.size() >= enough) break;
    const std::vector<double> finer = with(factors);
    if (finer.size() <= static_cast<std::size_t>(most)) best = finer;
  }
  if (best.size() <= static_cast<std::size_t>(most)) return best;
  std::vector<double> thinned;
  const std::size_t stride =
      (best.size() + static_cast<std::size_t>(most) - 1) / static_cast<std::size_t>(most);
  for (std::size_t i = 0; i < best.size(); i += stride) thinned.push_back(best[i]);
  return thinned;
}

std::vector<double> failed_ticks(double low, double high) {
  constexpr std::array<double, 19> percents = {0.0001, 0.001, 0.01, 0.1, 0.2, 0.5, 1,    2,     5,     10,
                                               20,     50,    63.2, 80,  90,  99,  99.9, 99.99, 99.999};
  std::vector<double> shares;
  for (const double percent : percents) {
    if (percent / 100 >= low && percent / 100 <= high) shares.push_back(percent / 100);
  }
  return shares;
}

std::string tick_text(const ChartAxis& axis, double value, double step) {
  if (axis.scale == ChartAxis::Scale::failed) return decimals_text(100 * value, 4);
  if (axis.scale == ChartAxis::Scale::logarithmic) return life_text(value);
  if (axis.share) return step_text(100 * value, step > 0 ? 100 * step : 0.1) + "\u00a0%";
  return step > 0 ? step_text(value, step) : decimals_text(value, axis.digits);
}

double on_scale(ChartAxis::Scale scale, double value) {
  switch (scale) {
    case ChartAxis::Scale::linear: return value;
    case ChartAxis::Scale::logarithmic: return std::log(value);
    case ChartAxis::Scale::failed: break;
  }
  return std::log(-std::log1p(-value));
}

double text_width(std::string_view text, double height) {
  constexpr std::string_view narrow = "iljtfrI.,:;'|!()[] -";
  constexpr std::string_view wide = "mwMWOQGNHDU%@&+=<>~ABCKRVXYZ";
  double narrow_ones = 0, wide_ones = 0;
  for (const char c : text) {
    if (narrow.find(c) != std::string_view::npos) narrow_ones += 1;
    if (wide.find(c) != std::string_view::npos) wide_ones += 1;
  }
  const double all = display_width(text);
  return height * (0.62 * all - 0.2 * narrow_ones + 0.24 * wide_ones);
}

std::vector<std::string> text_lines(const std::string& text, double width, double height,
                                    std::size_t most_lines) {
  std::vector<std::string> words, lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    std::string word = text.substr(at, end - at);
    at = end + 1;
    while (text_width(word, height) > width && word.size() > 1) {
      std::size_t cut = word.size();
      while (cut > 1 && (text_width(word.substr(0, cut), height) > width || is_within_letter(word[cut])))
        --cut;
      while (cut < word.size() && is_within_letter(word[cut])) ++cut;
      if (cut == word.size()) break;
      words.push_back(word.substr(0, cut));
      word.erase(0, cut);
    }
    if (!word.empty()) words.push_back(word);
  }
  for (const std::string& word : words) {
    const std::string longer = lines.empty() ? word : lines.back() + " " + word;
    if (!lines.empty() && text_width(longer, height) <= width) {
      lines.back() = longer;
    } else if (lines.size() < most_lines) {
      lines.push_back(word);
    } else {
      lines.back() += "\u2026";
      break;
    }
  }
  return lines;
}

std::vector<double> spread_out(const std::vector<double>& wanted, const std::vector<double>& heights,
                               double low, double high) {
  std::vector<std::size_t> order(wanted.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) { return wanted[a] < wanted[b]; });
  // Neighbours that would overlap become one block, which stands where its members want it on average.
  struct Block {
    double top = 0, height = 0, sum = 0, count = 0;
    std::vector<std::size_t> members{};
  };
  std::vector<Block> blocks;
  const auto settle = [&](Block& block) {
    block.top = std::max(low, std::min(block.sum / block.count, high - block.height));
  };
  for (const std::size_t i : order) {
    blocks.push_back({0, heights[i], wanted[i] - heights[i] / 2, 1, {i}});
    settle(blocks.back());
    while (blocks.size() > 1 &&
           blocks[blocks.size() - 2].top + blocks[blocks.size() - 2].height > blocks.back().top) {
      Block lower = std::move(blocks.back());
      blocks.pop_back();
      Block& upper = blocks.back();
      upper.sum += lower.sum - lower.count * upper.height;
      upper.count += lower.count;
      upper.height += lower.height;
      upper.members.insert(upper.members.end(), lower.members.begin(), lower.members.end());
      settle(upper);
    }
  }
  std::vector<double> centres(wanted.size());
  for (const Block& block : blocks) {
    double top = block.top;
    for (const std::size_t i : block.members) {
      centres[i] = top + heights[i] / 2;
      top += heights[i];
    }
  }
  return centres;
}

std::vector<int> lanes_of(const std::vector<Stretch>& spans, double gap) {
  std::vector<int> lanes;
  for (std::size_t i = 0; i < spans.size(); ++i) {
    int lane = 0;
    const auto taken = [&] {
      for (std::size_t j = 0; j < i; ++j) {
        if (lanes[j] == lane && spans[i].from < spans[j].to + gap && spans[j].from < spans[i].to + gap)
          return true;
      }
      return false;
    };
    while (taken()) ++lane;
    lanes.push_back(lane);
  }
  return lanes;
}

}  // namespace mendworth
