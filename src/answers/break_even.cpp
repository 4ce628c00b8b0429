#include "answers/break_even.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace mendworth {
namespace {

constexpr int scan_points = 7;
constexpr int rough_steps = 6, fine_steps = 6, settling_steps = 3, most_rounds = 3;
constexpr double rough_width = 1e-3, fine_width = 1e-7;  ///< of the range
constexpr double far_away = 0.005;    ///< a zero that moved by this share is looked at again
constexpr double near_enough = 0.25;  ///< errors
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

class ZeroSearch {
 public:
  ZeroSearch(const WhatIf& what_if, const Case& c, const Knob& knob)
      : what_if_(what_if), c_(c), knob_(knob), range_(knob.high - knob.low) {}

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
    const std::vector<Point> scanned = scan();
    found.saving_low = scanned.front().value.saving;
    found.saving_high = scanned.back().value.saving;
    for (std::size_t i = 1; i < scanned.size(); ++i) {
      if ((scanned[i - 1].value.saving < 0) == (scanned[i].value.saving < 0)) continue;
      add_root(scanned[i - 1], scanned[i], found);
    }
    return found;
  }

 private:
  struct Changed {
    Case c;
    Hypothesis hypothesis{};
  };
  [[nodiscard]] Changed changed_to(double x) const {
    Changed changed{.c = c_};
    knob_.turn(changed.c, changed.hypothesis, x);
    return changed;
  }
  [[nodiscard]] Point point_at(double x, const Courses& courses, WhatIf::Care care) const {
    const Changed changed = changed_to(x);
    return {x, what_if_.saving(courses, changed.c, changed.hypothesis, care)};
  }

  /// Denser near the current value, whose own saving is known.
  [[nodiscard]] std::vector<Point> scan() const {
    std::vector<double> at;
    for (int i = 0; i < scan_points; ++i) at.push_back(knob_.low + range_ * i / (scan_points - 1));
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
      points.push_back(now ? Point{x, what_if_.now()} : point_at(x, what_if_.courses(), WhatIf::Care::rough));
    }
    return points;
  }

  void add_root(Point low, Point high, BreakEven& found) const {
    for (int i = 0; i < rough_steps && high.x - low.x > rough_width * range_; ++i) {
      const Point middle = point_at(i % 3 == 2 ? 0.5 * (low.x + high.x) : between(low, high),
                                    what_if_.courses(), WhatIf::Care::rough);
      ((middle.value.saving < 0) == (low.value.saving < 0) ? low : high) = middle;
    }
    double slope = (high.value.saving - low.value.saving) / (high.x - low.x);
    // What would be chosen there may be another course, which moves the zero; what is chosen at the new one as well.
    double x = between(low, high);
    Courses courses = what_if_.courses();
    Point zero;
    for (int round = 0; round < most_rounds; ++round) {
      const Changed there = changed_to(x);
      courses = what_if_.with_best_of(courses, there.c, there.hypothesis);
      zero = mended(x, courses, slope);
      const bool moved = std::abs(zero.x - x) > far_away * std::max(std::abs(x), rough_width * range_);
      x = zero.x;
      if (!moved) break;
    }
    zero = settled(zero.x, courses, slope);
    const double reach = slope != 0.0 ? sure_errors * zero.value.error / std::abs(slope) : range_;
    found.values.push_back(zero.x);
    found.intervals.push_back(
        {.low = std::max(knob_.low, zero.x - reach), .high = std::min(knob_.high, zero.x + reach)});
  }

  /// The zero near x with care: steps along the slope until it lies between two points, then closes in. Gives the
  /// steepness that it met.
  [[nodiscard]] Point mended(double x, const Courses& courses, double& slope) const {
    Point best = point_at(x, courses, WhatIf::Care::fine);
    std::optional<Point> below, above;
    for (int i = 0; i < fine_steps && std::abs(best.value.saving) > near_enough * best.value.error; ++i) {
      ((best.value.saving < 0) == (slope > 0) ? below : above) = best;
      double next_x = 0;
      if (below && above) {
        if (above->x - below->x <= fine_width * range_) break;
        next_x = i % 3 == 2 ? 0.5 * (below->x + above->x) : between(*below, *above);
        const double met = (above->value.saving - below->value.saving) / (above->x - below->x);
        if (met * slope > 0) slope = met;
      } else {
        const double step = slope == 0.0 ? 0.1 * range_ : -1.5 * best.value.saving / slope;
        next_x = std::clamp(best.x + step, knob_.low, knob_.high);
        if (next_x == best.x) break;
      }
      const Point next = point_at(next_x, courses, WhatIf::Care::fine);
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
    return best;
  }

  /// Where a weighing with these courses finds nought: steps along the slope from where fewer futures do.
  [[nodiscard]] Point settled(double x, const Courses& courses, double slope) const {
    const auto weighed_at = [&](double at) {
      const Changed there = changed_to(at);
      return Point{at, what_if_.weighed(courses, there.c, there.hypothesis)};
    };
    Point best = weighed_at(x);
    for (int i = 0; i < settling_steps && slope != 0.0; ++i) {
      if (std::abs(best.value.saving) <= near_enough * best.value.error) break;
      const double at = std::clamp(best.x - best.value.saving / slope, knob_.low, knob_.high);
      const Point next = weighed_at(at);
      if (!(std::abs(next.value.saving) < std::abs(best.value.saving))) break;
      const double met = (next.value.saving - best.value.saving) / (next.x - best.x);
      if (met * slope > 0) slope = met;
      best = next;
    }
    return best;
  }

  const WhatIf& what_if_;
  const Case& c_;
  const Knob& knob_;
  double range_;
};

}  // namespace

BreakEven break_even_of(const WhatIf& what_if, const Case& c, const Knob& knob) {
  return ZeroSearch(what_if, c, knob).run();
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
