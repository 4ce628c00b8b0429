#include "lifetime/maximum.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "lifetime/gathered.hpp"

namespace mendworth::lifetime {
namespace {

constexpr const char* divided_by_one_age =
    "Every failure may have come at one age, and no piece is known to have worked beyond it: the sharper the "
    "wear-out, the likelier the record, so no shape is the best.";

struct Step {
  double level = 0, shape = 0;
  double gain = 0;  // slope of the likelihood along the step
};

// Newton's step; where the surface is not a dome the curvature is raised until it is one.
Step newton_step(const Evaluation& e) {
  const double trace = -(e.d_level_level + e.d_shape_shape);
  double lift = 0;
  for (int i = 0; i < 60; ++i) {
    const double a = -e.d_level_level + lift;
    const double b = -e.d_level_shape;
    const double c = -e.d_shape_shape + lift;
    const double determinant = a * c - b * b;
    if (a > 0 && determinant > 0) {
      Step step;
      step.level = (c * e.d_level - b * e.d_shape) / determinant;
      step.shape = (a * e.d_shape - b * e.d_level) / determinant;
      step.gain = step.level * e.d_level + step.shape * e.d_shape;
      if (std::isfinite(step.gain)) return step;
    }
    lift = lift > 0 ? 4 * lift : 1e-8 * (std::abs(trace) + 1);
  }
  return {};
}

// A shape of the right size: by the scatter of the failures' logarithms, each interval at its middle.
double first_shape(const Observations& seen) {
  double weight = 0, sum = 0, squares = 0;
  const auto add = [&](double x, double w) {
    weight += w;
    sum += w * x;
    squares += w * x * x;
  };
  for (const LogAge& failure : seen.failures) add(failure.x, failure.weight);
  for (const LogInterval& interval : seen.intervals) {
    add(interval.high - std::min(interval.width / 2, std::numbers::ln2), interval.weight);
  }
  const double mean = sum / weight;
  const double deviation = std::sqrt(std::max(0.0, squares / weight - mean * mean));
  // The deviation of ln(life) is pi/sqrt(6)/shape; few failures, or censored ones, scatter less.
  return deviation > 1e-6 ? std::clamp(1 / deviation, 1e-3, 1e3) : 1.0;
}

struct LevelAndShape {
  double level, shape;
};

LevelAndShape start(const WeibullLikelihood& likelihood) {
  const double shape = first_shape(likelihood.observations());
  LevelAndShape best{likelihood.best_level(shape, 0), shape};
  if (!likelihood.observations().truncated) return best;
  const Observations few = gathered(likelihood.observations(), shape);
  const WeibullLikelihood rough(few);
  double greatest = rough.at(best.level, best.shape).value;
  double guess = best.level;
  for (int power = 5; power >= -7; --power) {
    if (power == 0) continue;
    const double tried = shape * std::exp2(power);
    guess = rough.best_level(tried, guess);
    const double value = rough.at(guess, tried).value;
    if (value > greatest) {
      greatest = value;
      best = {guess, tried};
    }
  }
  return best;
}

// Inspections only, each piece seen once: it had failed, or it worked. The likelihood is then finite at shape
// 0, where age does not matter; by concavity it is greatest there if it falls as the shape grows from it.
bool older_fail_no_more(const WeibullLikelihood& likelihood) {
  const double level = likelihood.best_level(0, 0);
  // Equal shares give a slope of 0, but for rounding.
  return likelihood.at(level, 0).d_shape <= 1e-9 * likelihood.observations().between;
}

bool each_seen_once(const Observations& seen) {
  return seen.exact == 0 && !seen.truncated &&
         std::all_of(seen.intervals.begin(), seen.intervals.end(),
                     [](const LogInterval& interval) { return std::isinf(interval.width); });
}

}  // namespace

std::string why_no_maximum(const Observations& seen) {
  if (seen.pieces_at_zero > 0) {
    return "Some pieces failed at age 0, which no Weibull law allows: leave out what was dead on arrival.";
  }
  if (seen.exact == 0 && seen.between == 0) return "No piece has failed: any life that is long enough fits.";
  // Towards ever sharper wear-out at one age the likelihood does not fall if that age lies within every
  // interval, no piece is known to have worked beyond it, and the exact failures, if any, are all there.
  if (seen.exact > 0) {
    if (seen.first_failure == seen.last_failure && seen.longest_survival <= seen.first_failure &&
        seen.earliest_interval >= seen.first_failure) {
      return divided_by_one_age;
    }
    return {};
  }
  if (seen.longest_survival <= seen.earliest_interval) {
    if (seen.longest_survival == 0) {
      return "Every piece had failed at the first look after it came under watch: the record sets no lower "
             "limit to the life.";
    }
    return divided_by_one_age;
  }
  if (each_seen_once(seen) && older_fail_no_more(WeibullLikelihood(seen))) {
    return "Among the older pieces no larger share had failed than among the younger ones: the likelihood is "
           "greatest at a shape of 0, which is no law of life.";
  }
  return {};
}

std::optional<Maximum> find_maximum(const WeibullLikelihood& likelihood) {
  const LevelAndShape from = start(likelihood);
  Maximum best{from.level, from.shape, likelihood.at(from.level, from.shape)};
  // Only late watching brings a shape so far from the scatter of the failures.
  const double least = 1e-3 * from.shape;
  const double most = 1e9 * from.shape;
  double last_gain = 0;
  int final_steps = 0;
  for (int i = 0; i < 300; ++i) {
    const Step step = newton_step(best.here);
    if (!(step.gain > 0)) break;
    // Near the maximum, differences of the value drown in rounding; Newton's step itself does not.
    const bool near = step.gain < 1e-7;
    double t = step.shape < 0 ? std::min(1.0, -0.9 * best.shape / step.shape) : 1.0;
    if (near) {
      ++final_steps;
      if (final_steps > 1 && step.gain >= last_gain / 4) break;
      last_gain = step.gain;
    }
    bool moved = false;
    for (int halving = 0; halving < 60; ++halving) {
      Maximum next;
      next.level = best.level + t * step.level;
      next.shape = best.shape + t * step.shape;
      next.here = likelihood.at(next.level, next.shape);
      if (near || next.here.value >= best.here.value + 1e-4 * t * step.gain) {
        best = next;
        moved = true;
        break;
      }
      t /= 2;
    }
    if (!moved) break;
    if (best.shape < least || best.shape > most) return std::nullopt;
    if (near && std::abs(step.shape) < 1e-15 * best.shape && final_steps > 1) break;
  }
  if (!std::isfinite(best.here.value)) return std::nullopt;
  return best;
}

std::optional<Covariance> covariance_at(const Evaluation& e) {
  const double determinant = e.d_level_level * e.d_shape_shape - e.d_level_shape * e.d_level_shape;
  if (!(determinant > 0) || !(e.d_level_level < 0) || !std::isfinite(determinant)) return std::nullopt;
  Covariance out{-e.d_shape_shape / determinant, e.d_level_shape / determinant,
                 -e.d_level_level / determinant};
  if (!std::isfinite(out.level) || !std::isfinite(out.shape)) return std::nullopt;
  return out;
}

}  // namespace mendworth::lifetime
