#include "mendworth/curve.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/plain_number.hpp"

namespace mendworth {

namespace {

constexpr int halvings = 6;              ///< of the way between two points that differ
constexpr std::size_t most_breaks = 12;  ///< that are looked for closely

double rounded_to_copy(double value) {
  constexpr int digits = 12;
  const std::string text = fmt::format("{:.{}g}", value, digits);
  double rounded = value;
  std::from_chars(text.data(), text.data() + text.size(), rounded);
  return rounded;
}

const char* course_of(VerdictKind kind) {
  switch (kind) {
    case VerdictKind::repair: return "repair";
    case VerdictKind::replace: return "replace";
    case VerdictKind::leave: return "leave it";
    case VerdictKind::keep: return "keep";
    case VerdictKind::price_unknown: return "price unknown";
    case VerdictKind::refer: break;
  }
  return "refer";
}

void add_order(CurvePoint& point, const OrderAnswer& order) {
  for (const OrderLine& line : order.lines) {
    point.lines.push_back({line.candidate, line.supplier, line.quantity, line.each});
    point.pieces += line.quantity;
  }
  point.shipping = order.shipping;
}

bool same_order(const CurvePoint& a, const CurvePoint& b) {
  if ((a.shipping > 0) != (b.shipping > 0) || a.lines.size() != b.lines.size()) return false;
  return std::equal(
      a.lines.begin(), a.lines.end(), b.lines.begin(), [](const CurveLine& x, const CurveLine& y) {
        return x.candidate == y.candidate && x.supplier == y.supplier && x.quantity == y.quantity;
      });
}

/// Why two orders differ, the first that holds.
std::string what_differs(const CurvePoint& before, const CurvePoint& after) {
  if (before.shipping > 0 && after.shipping == 0 && !after.lines.empty()) return "free shipping is reached";
  if (before.shipping == 0 && after.shipping > 0 && !before.lines.empty())
    return "free shipping is no longer reached";
  const std::size_t lines = std::min(before.lines.size(), after.lines.size());
  for (std::size_t i = 0; i < lines; ++i) {
    const CurveLine& a = before.lines[i];
    const CurveLine& b = after.lines[i];
    if (a.candidate == b.candidate && a.supplier == b.supplier && a.quantity != b.quantity &&
        a.each != b.each) {
      return fmt::format("price break: {} x {} at {} each, before {} at {}", b.quantity, b.candidate,
                         number_text(b.each), a.quantity, number_text(a.each));
    }
  }
  for (std::size_t i = 0; i < lines; ++i) {
    const CurveLine& a = before.lines[i];
    const CurveLine& b = after.lines[i];
    if (a.supplier != b.supplier) return fmt::format("from {} in place of {}", b.supplier, a.supplier);
    if (a.candidate != b.candidate) return fmt::format("{} in place of {}", b.candidate, a.candidate);
  }
  return fmt::format("{} pieces in place of {}", after.pieces, before.pieces);
}

using PointAt = std::function<CurvePoint(const std::vector<double>&)>;

/// Halves the way between two points that `differ` again and again.
template <class Differ>
std::pair<CurvePoint, CurvePoint> narrowed(CurvePoint low, CurvePoint high, bool whole,
                                           const PointAt& point_at, Differ differ) {
  for (int i = 0; i < halvings; ++i) {
    double middle = (low.at.front() + high.at.front()) / 2;
    if (whole) middle = std::floor(middle);
    middle = rounded_to_copy(middle);
    if (middle == low.at.front() || middle == high.at.front()) break;
    CurvePoint between = point_at({middle});
    between.at = {middle};
    (differ(low, between) ? high : low) = std::move(between);
  }
  return {std::move(low), std::move(high)};
}

bool is_whole(const std::vector<double>& values) {
  return std::all_of(values.begin(), values.end(), [](double v) { return v == std::floor(v); });
}

void add_breaks(Curve& curve, const PointAt& point_at) {
  // A number that is stepped whole may be one that is counted, where half a piece is no value.
  const bool whole = is_whole(curve.keys.front().values());
  const auto add = [&](const CurvePoint& a, const CurvePoint& b, std::string what) {
    curve.breaks.push_back(
        {std::min(a.at.front(), b.at.front()), std::max(a.at.front(), b.at.front()), std::move(what)});
  };
  for (std::size_t i = 0; i + 1 < curve.points.size() && curve.breaks.size() < most_breaks; ++i) {
    const CurvePoint& low = curve.points[i];
    const CurvePoint& high = curve.points[i + 1];
    if (low.course != high.course) {
      const auto [a, b] = narrowed(low, high, whole, point_at, [](const CurvePoint& x, const CurvePoint& y) {
        return x.course != y.course;
      });
      add(a, b, fmt::format("the verdict turns: {} before, {} from here on", a.course, b.course));
    }
    if (!same_order(low, high)) {
      const auto [a, b] = narrowed(low, high, whole, point_at, [](const CurvePoint& x, const CurvePoint& y) {
        return !same_order(x, y);
      });
      add(a, b, what_differs(a, b));
    }
  }
  std::stable_sort(curve.breaks.begin(), curve.breaks.end(),
                   [](const CurveBreak& a, const CurveBreak& b) { return a.low < b.low; });
}

}  // namespace

std::vector<double> VariedKey::values() const {
  std::vector<double> all;
  for (int i = 0; i <= steps; ++i) all.push_back(rounded_to_copy(from + (to - from) * i / steps));
  return all;
}

CurvePoint curve_point(const Weighing& w) {
  CurvePoint point;
  point.course = course_of(w.verdict.kind);
  point.value = w.verdict.saving;
  point.error = w.verdict.saving_error;
  for (const OptionResult& option : w.options) {
    if (option.name == w.verdict.best) point.money_now = option.cash_now;
  }
  if (w.order) add_order(point, *w.order);
  return point;
}

CurvePoint curve_point(const Buying& b) {
  CurvePoint point;
  point.course = b.repair_is_best ? "repair" : b.best_course;
  if (b.baskets.empty()) return point;
  point.value = b.baskets.front().net;
  point.money_now = b.baskets.front().landed;
  add_order(point, b.order);
  return point;
}

CurvePoint curve_point(const BulkAnswer& a) {
  CurvePoint point;
  if (a.scenarios.empty()) return point;
  const BulkScenario& scenario = a.scenarios.front();
  for (const BulkChoice& choice : scenario.choices) {
    const BulkLadder& ladder = scenario.ladders[choice.ladder];
    point.value = point.value.value_or(0.0) + choice.cost;
    point.money_now += choice.again ? ladder.repeated->landed : ladder.best.landed;
    for (const BulkLine& line : choice.again ? ladder.repeated->lines : ladder.best.lines) {
      point.lines.push_back({ladder.candidate, line.supplier, line.quantity, line.each});
      point.pieces += line.quantity;
    }
  }
  for (std::size_t i = 0; scenario.policies && i < scenario.policies->policies.size(); ++i) {
    const PolicyCost& policy = scenario.policies->policies[i];
    if (policy.cheapest) point.course = name_of(policy.policy);
  }
  if (point.course.empty()) point.course = "buy";
  return point;
}

void trace(Curve& curve, const PointAt& point_at) {
  const std::vector<double> first = curve.keys.front().values();
  const std::vector<double> second =
      curve.keys.size() > 1 ? curve.keys[1].values() : std::vector<double>{0.0};
  for (const double a : first) {
    for (const double b : second) {
      const std::vector<double> at =
          curve.keys.size() > 1 ? std::vector<double>{a, b} : std::vector<double>{a};
      CurvePoint point = point_at(at);
      point.at = at;
      curve.points.push_back(std::move(point));
    }
  }
  if (curve.keys.size() == 1) add_breaks(curve, point_at);
}

}  // namespace mendworth
