#include "answers/break_even.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace mendworth {
namespace {

constexpr int scan_points = 7;
constexpr int rough_steps = 6, exact_steps = 4;
constexpr double rough_width = 1e-3, exact_width = 1e-7;  ///< of the range
constexpr double sure_errors = 2.0;

struct Point {
  double x = 0;
  SavingValue value;
};

/// Where the line between two points meets zero, kept off their ends.
double between(const Point& a, const Point& b) {
  const double rise = b.value.saving - a.value.saving;
  const double x = rise == 0.0 ? 0.5 * (a.x + b.x) : a.x - a.value.saving * (b.x - a.x) / rise;
  const double margin = 0.02 * (b.x - a.x);
  return std::clamp(x, a.x + margin, b.x - margin);
}

class Search {
 public:
  Search(const WhatIf& what_if, const Case& c, const Knob& knob) : what_if_(what_if), c_(c), knob_(knob) {}

  BreakEven run() {
    BreakEven found;
    found.key = knob_.key;
    found.label = knob_.label;
    found.current = knob_.current;
    found.low = knob_.low;
    found.high = knob_.high;
    if (!(knob_.low < knob_.high)) {
      found.saving_low = found.saving_high = what_if_.now().saving;
      return found;
    }
    std::vector<Point> scanned = scan();
    found.saving_low = scanned.front().value.saving;
    found.saving_high = scanned.back().value.saving;
    for (std::size_t i = 1; i < scanned.size(); ++i) {
      if ((scanned[i - 1].value.saving < 0) == (scanned[i].value.saving < 0)) continue;
      add_root(scanned[i - 1], scanned[i], found);
    }
    return found;
  }

 private:
  [[nodiscard]] SavingValue value_at(double x, bool exactly) const {
    Case changed = c_;
    Hypothesis hypothesis;
    knob_.turn(changed, hypothesis, x);
    return exactly ? what_if_.exactly(changed, hypothesis) : what_if_.roughly(changed, hypothesis);
  }

  /// Denser near the current value, whose own saving is known.
  std::vector<Point> scan() const {
    std::vector<double> at;
    for (int i = 0; i < scan_points; ++i)
      at.push_back(knob_.low + (knob_.high - knob_.low) * i / (scan_points - 1));
    const bool inside = knob_.current > knob_.low && knob_.current < knob_.high;
    if (inside) {
      for (const double near : {0.5, 2.0}) {
        const double x = near * knob_.current;
        if (x > knob_.low && x < knob_.high) at.push_back(x);
      }
      at.push_back(knob_.current);
    }
    std::sort(at.begin(), at.end());
    at.erase(std::unique(at.begin(), at.end()), at.end());
    std::vector<Point> points;
    for (const double x : at) {
      const bool now = inside && x == knob_.current && knob_.states_current;
      points.push_back({x, now ? what_if_.now() : value_at(x, false)});
    }
    return points;
  }

  void add_root(Point low, Point high, BreakEven& found) const {
    const double range = knob_.high - knob_.low;
    for (int i = 0; i < rough_steps && high.x - low.x > rough_width * range; ++i) {
      const double x = i % 3 == 2 ? 0.5 * (low.x + high.x) : between(low, high);
      const Point middle{x, value_at(x, false)};
      ((middle.value.saving < 0) == (low.value.saving < 0) ? low : high) = middle;
    }
    const double slope = (high.value.saving - low.value.saving) / (high.x - low.x);
    Point best{between(low, high), {}};
    best.value = value_at(best.x, true);
    // The few futures put the zero a little beside where all of them have it: step there, then close in.
    std::optional<Point> below, above;
    double interval_slope = slope;
    for (int i = 0; i < exact_steps && std::abs(best.value.saving) > 0.25 * best.value.error; ++i) {
      ((best.value.saving < 0) == (slope > 0) ? below : above) = best;
      double x = 0;
      if (below && above) {
        if (above->x - below->x <= exact_width * range) break;
        x = i % 3 == 2 ? 0.5 * (below->x + above->x) : between(*below, *above);
        interval_slope = (above->value.saving - below->value.saving) / (above->x - below->x);
      } else {
        const double step = slope == 0.0 ? 0.1 * range : -1.5 * best.value.saving / slope;
        x = std::clamp(best.x + step, knob_.low, knob_.high);
        if (x == best.x) break;
      }
      const Point next{x, value_at(x, true)};
      if (!(below && above) && std::abs(next.value.saving) > std::abs(best.value.saving) &&
          (next.value.saving < 0) == (best.value.saving < 0)) {
        break;  // the zero was only that of the few futures
      }
      best = next;
    }
    // Of the two sides of a jump, that nearer to nought.
    for (const auto& side : {below, above}) {
      if (side && std::abs(side->value.saving) < std::abs(best.value.saving)) best = *side;
    }
    const double steepness = std::max(std::abs(interval_slope), std::abs(slope));
    const double reach = steepness > 0 ? sure_errors * best.value.error / steepness : range;
    found.values.push_back(best.x);
    found.intervals.push_back(
        {.low = std::max(knob_.low, best.x - reach), .high = std::min(knob_.high, best.x + reach)});
  }

  const WhatIf& what_if_;
  const Case& c_;
  const Knob& knob_;
};

}  // namespace

BreakEven break_even_of(const WhatIf& what_if, const Case& c, const Knob& knob) {
  return Search(what_if, c, knob).run();
}

BreakEven leftovers_break_even(double without, double worth_each, double used, int leftovers) {
  BreakEven found;
  found.key = "common.leftovers_used";
  found.label = "pieces used from the leftovers";
  found.current = used;
  found.high = leftovers;
  found.saving_low = without;
  found.saving_high = without + worth_each * leftovers;
  if (worth_each > 0 && without < 0 && found.saving_high > 0) found.values.push_back(-without / worth_each);
  return found;
}

}  // namespace mendworth
