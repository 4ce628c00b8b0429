#include "answers/break_even.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace mendworth {
namespace {

constexpr int scan_points = 7;
constexpr int rough_steps = 6, closing_steps = 6, most_rounds = 4;
constexpr double rough_width = 1e-3, least_width = 1e-7;  ///< of the range
constexpr double far_away = 0.02;                   ///< a zero that moved by this share is looked at again
constexpr double near_enough = 0.5, nearer = 0.02;  ///< errors: of what is run, and of what costs nothing
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
      : what_if_(what_if), c_(c), knob_(knob), range_(knob.high - knob.low), courses_(what_if.courses()) {}

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
    know_ends();
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
  [[nodiscard]] Point point_at(double x, const Courses& courses) const {
    const Changed changed = changed_to(x);
    return {x, what_if_.saving(courses, changed.c, changed.hypothesis)};
  }

  /// Where repairing pays now and loses at an end at which the order is in question, what is best there is a course too:
  /// else the order that is best now would be carried to prices at which nobody would place it.
  void know_ends() {
    if (what_if_.now().saving < 0) return;
    for (const double x : {knob_.low, knob_.high}) {
      const Changed there = changed_to(x);
      if (what_if_.is_of_orders(there.c, there.hypothesis) &&
          what_if_.side(courses_, there.c, there.hypothesis).saving < 0)
        courses_ = what_if_.with_best_of(courses_, there.c, there.hypothesis);
    }
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
      if (now) {
        points.push_back({x, what_if_.now()});
      } else if (x == at.front() || x == at.back()) {
        points.push_back(point_at(x, courses_));
      } else {
        const Changed there = changed_to(x);
        points.push_back({x, what_if_.side(courses_, there.c, there.hypothesis)});
      }
    }
    return points;
  }

  void add_root(Point low, Point high, BreakEven& found) const {
    for (int i = 0; i < rough_steps && high.x - low.x > rough_width * range_; ++i) {
      const Point middle = point_at(i % 3 == 2 ? 0.5 * (low.x + high.x) : between(low, high), courses_);
      ((middle.value.saving < 0) == (low.value.saving < 0) ? low : high) = middle;
    }
    const double slope = (high.value.saving - low.value.saving) / (high.x - low.x);
    // What would be chosen there may be another course, which moves the zero; what is chosen at the new one as well.
    Zero zero{.at = {between(low, high), {}}, .slope = slope};
    Courses courses = courses_;
    bool is_weighed = false;
    for (int round = 0; round < most_rounds; ++round) {
      const double x = zero.at.x;
      const Changed there = changed_to(x);
      const std::size_t known = courses.list.size();
      courses = what_if_.with_best_of(courses, there.c, there.hypothesis);
      const bool is_new = round == 0 || courses.list.size() != known;
      if (!is_new && is_weighed) break;
      // Where a weighing costs much, first over few futures.
      const bool is_of_prices = what_if_.is_of_prices(there.c, there.hypothesis);
      if (!is_weighed && is_new && !is_of_prices) {
        zero = closed_in(zero, near_enough, [&](double at) { return point_at(at, courses); });
        if (far(x, zero.at.x) > far_away && round + 1 < most_rounds) continue;
      }
      zero = closed_in(zero, is_of_prices ? nearer : near_enough,
                       [&](double at) { return weighed_at(at, courses); });
      is_weighed = true;
      if (!is_new || far(x, zero.at.x) <= far_away) break;
    }
    const double reach =
        zero.slope != 0.0 ? sure_errors * zero.at.value.error / std::abs(zero.slope) : range_;
    found.values.push_back(zero.at.x);
    found.intervals.push_back(
        {.low = std::max(knob_.low, zero.at.x - reach), .high = std::min(knob_.high, zero.at.x + reach)});
  }

  [[nodiscard]] Point weighed_at(double x, const Courses& courses) const {
    const Changed changed = changed_to(x);
    return {x, what_if_.weighed(courses, changed.c, changed.hypothesis)};
  }

  struct Zero {
    Point at;
    double slope = 0;
  };
  /// How far two values are from each other, as a share of them.
  [[nodiscard]] double far(double a, double b) const {
    return std::abs(a - b) / std::max({std::abs(a), std::abs(b), rough_width * range_});
  }

  /// The zero near one that is only about right: steps along the slope until it lies between two points, then closes in,
  /// to within so many errors of the saving.
  template <class Value>
  [[nodiscard]] Zero closed_in(Zero zero, double errors, Value value_at) const {
    Point best = value_at(zero.at.x);
    std::optional<Point> below, above;
    double reach = 1.0;
    for (int i = 0; i < closing_steps; ++i) {
      if (!(std::abs(best.value.saving) > errors * best.value.error)) break;
      ((best.value.saving < 0) == (zero.slope > 0) ? below : above) = best;
      double x = 0;
      if (below && above) {
        if (above->x - below->x <= least_width * range_) break;
        x = i % 3 == 2 ? 0.5 * (below->x + above->x) : between(*below, *above);
      } else {
        const double step = zero.slope == 0.0 ? 0.1 * range_ : -reach * best.value.saving / zero.slope;
        x = std::clamp(best.x + step, knob_.low, knob_.high);
        reach *= 1.5;
      }
      if (x == best.x) break;
      const Point next = value_at(x);
      const double met = (next.value.saving - best.value.saving) / (next.x - best.x);
      if (met * zero.slope > 0) zero.slope = met;
      best = next;
    }
    // Of the two sides of a jump, that nearer to nought.
    for (const auto& side : {below, above}) {
      if (side && std::abs(side->value.saving) < std::abs(best.value.saving)) best = *side;
    }
    return {best, zero.slope};
  }

  const WhatIf& what_if_;
  const Case& c_;
  const Knob& knob_;
  double range_;
  Courses courses_;  ///< known before a zero is looked for
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
