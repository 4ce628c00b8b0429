#include "lifetime/profile.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth::lifetime {
namespace {

using Kind = ProfiledQuantity::Kind;

// The likelihood along the line on which the quantity has one value, by the parameter that stays free: the
// level for a shape, else the shape.
struct OnLine {
  double value = 0;
  double slope = 0, curvature = 0;  // in the free parameter
  double pull = 0;                  // derivative in the quantity itself, the free parameter kept
};

OnLine on_line(const WeibullLikelihood& likelihood, const ProfiledQuantity& quantity, double q, double free) {
  if (quantity.kind == Kind::log_shape) {
    const double shape = std::exp(q);
    const Evaluation e = likelihood.at(free, shape);
    return {e.value, e.d_level, e.d_level_level, e.d_shape * shape};
  }
  // level = base - shape place
  const bool life = quantity.kind == Kind::log_life;
  const double base = life ? quantity.fixed : q;
  const double place = life ? q : quantity.fixed;
  const Evaluation e = likelihood.at(base - free * place, free);
  return {e.value, e.d_shape - place * e.d_level,
          e.d_shape_shape - 2 * place * e.d_level_shape + place * place * e.d_level_level,
          life ? -free * e.d_level : e.d_level};
}

struct ProfilePoint {
  double value = -infinity;
  double slope = 0;  // of the profile in the quantity: by the envelope theorem, the pull at the free optimum
  double free = 0;
};

// The greatest likelihood on the line. Concave there, so the sign of the slope brackets the place; Newton's
// steps inside the bracket.
ProfilePoint greatest_on_line(const WeibullLikelihood& likelihood, const ProfiledQuantity& quantity, double q,
                              double guess) {
  const bool positive = quantity.kind != Kind::log_shape;
  double low = positive ? 0 : -infinity;
  double high = infinity;
  double free = guess;
  ProfilePoint best;
  for (int i = 0; i < 120; ++i) {
    const OnLine e = on_line(likelihood, quantity, q, free);
    const bool finite = std::isfinite(e.value) && std::isfinite(e.slope);
    if (finite && e.value > best.value) best = {e.value, e.pull, free};
    // Where arithmetic overflows there is too much hazard: a lower level or a smaller shape cures that.
    if (finite && e.slope > 0) {
      low = std::max(low, free);
    } else {
      high = std::min(high, free);
    }
    double step = finite && e.curvature < 0 ? -e.slope / e.curvature : infinity;
    if (!std::isfinite(step)) step = finite && e.slope > 0 ? infinity : -infinity;
    // What a full step would still gain, in log-likelihood.
    if (finite && e.curvature < 0 && 0.5 * std::abs(step * e.slope) < 1e-12 * (1 + 1e-3 * std::abs(e.value)))
      break;
    const double reach = positive ? 4 * free : 4 + std::abs(free);
    double next = std::clamp(free + step, positive ? free / 5 : free - reach, free + reach);
    if (!(next > low && next < high)) {
      if (std::isfinite(high) && std::isfinite(low)) {
        next = positive && low > 0 ? std::sqrt(low * high) : low + (high - low) / 2;
      }
    }
    if (positive && (next < 1e-12 || next > 1e12)) break;
    if (next == free || std::abs(next - free) < 1e-15 * std::abs(free)) break;
    free = next;
  }
  return best;
}

// Where the search gives up: the limit is then none. ln(shape) beyond a factor of a million, a life beyond
// any unit, a share that differs from 0 or 1 by nothing.
double farthest(Kind kind) { return kind == Kind::log_shape ? 14 : 300; }

// The signed root of the likelihood ratio is nearly linear in the quantity, so Newton's method on it needs
// few steps.
double one_limit(const WeibullLikelihood& likelihood, const Maximum& maximum,
                 const ProfiledQuantity& quantity, const QuantityAt& centre, double error, double wanted,
                 double direction) {
  const double end = farthest(quantity.kind);
  // Rounding of a large sum of logarithms must not keep the search going.
  const double close = 1e-10 * wanted + 4e-15 * std::abs(maximum.here.value);
  double inside = 0;  // distances from the estimate
  double outside = infinity;
  double distance = std::min(wanted * error, end / 2);
  double free = quantity.kind == Kind::log_shape ? maximum.level : maximum.shape;
  for (int i = 0; i < 100; ++i) {
    const ProfilePoint point =
        greatest_on_line(likelihood, quantity, centre.value + direction * distance, free);
    const double fall =
        std::isfinite(point.value) ? std::max(0.0, maximum.here.value - point.value) : infinity;
    const double root = std::sqrt(2 * fall);
    const double rise = root > 0 && std::isfinite(root) ? -direction * point.slope / root : 0;
    if (std::isfinite(point.value)) free = point.free;
    if (root < wanted) {
      inside = distance;
      if (distance >= end) return direction * infinity;
    } else {
      outside = distance;
    }
    double next = rise > 0 ? distance + (wanted - root) / rise : infinity;
    if (std::abs(root - wanted) < close) {
      if (std::isfinite(next)) distance = next;
      break;
    }
    if (std::isinf(outside)) {
      next = std::min({std::max(next, 1.02 * distance), 3 * distance, end});
    } else if (!(next > inside && next < outside)) {
      next = inside + (outside - inside) / 2;
    }
    if (std::abs(next - distance) < 1e-14 * distance) break;
    distance = next;
  }
  return centre.value + direction * distance;
}

}  // namespace

QuantityAt quantity_at(const ProfiledQuantity& quantity, double level, double shape) {
  switch (quantity.kind) {
    case Kind::log_shape: return {std::log(shape), 0, 1 / shape};
    case Kind::log_life: {
      const double value = (quantity.fixed - level) / shape;
      return {value, -1 / shape, -value / shape};
    }
    case Kind::log_hazard: return {level + shape * quantity.fixed, 1, quantity.fixed};
  }
  return {};
}

ProfileLimits profile_limits(const WeibullLikelihood& likelihood, const Maximum& maximum,
                             const ProfiledQuantity& quantity, double error, double fall) {
  const QuantityAt centre = quantity_at(quantity, maximum.level, maximum.shape);
  const double wanted = std::sqrt(2 * fall);
  return {one_limit(likelihood, maximum, quantity, centre, error, wanted, -1),
          one_limit(likelihood, maximum, quantity, centre, error, wanted, 1)};
}

}  // namespace mendworth::lifetime
