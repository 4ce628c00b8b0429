#include "lifetime/fit_test.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "lifetime/gathered.hpp"
#include "numeric/distributions.hpp"

namespace mendworth::lifetime {
namespace {

const double log_power_bound = std::log(20.0);

// Parameters: level, shape, ln(power).
using Place = std::array<double, 3>;

struct Surface {
  double value = 0;
  std::array<double, 3> slope{};
  std::array<std::array<double, 3>, 3> curve{};  // upper triangle
};

// A function of z = ln H at one age, and of the ln(power) p, with its derivatives.
struct AtAge {
  double value = 0, z = 0, p = 0, zz = 0, zp = 0, pp = 0;
};

// ln F = power ln(1 - exp(-H)).
AtAge log_failed(double z, double power) {
  const double u = std::exp(z);
  if (u > 700) return {};  // has failed for certain
  const double g = u > 0 ? u / std::expm1(u) : 1;
  const double q = power * (u < 1e-10 ? z - u / 2 : std::log(-std::expm1(-u)));
  return {q, power * g, q, power * g * (1 - g - u), power * g, q};
}

// ln(1 - F).
AtAge log_working(double z, double power, double log_power) {
  const double u = std::exp(z);
  // 1 - F = power exp(-u) to all digits.
  if (u > 36) return {log_power - u, -u, 1, -u, 0, 0};
  const AtAge q = log_failed(z, power);
  const double first = -1 / std::expm1(-q.value);
  const double second = first * (1 - first);
  return {std::log(-std::expm1(q.value)),
          first * q.z,
          first * q.p,
          second * q.z * q.z + first * q.zz,
          second * q.z * q.p + first * q.zp,
          second * q.p * q.p + first * q.pp};
}

void add(Surface& to, const AtAge& f, double x, double weight) {
  to.value += weight * f.value;
  to.slope[0] += weight * f.z;
  to.slope[1] += weight * f.z * x;
  to.slope[2] += weight * f.p;
  to.curve[0][0] += weight * f.zz;
  to.curve[0][1] += weight * f.zz * x;
  to.curve[1][1] += weight * f.zz * x * x;
  to.curve[0][2] += weight * f.zp;
  to.curve[1][2] += weight * f.zp * x;
  to.curve[2][2] += weight * f.pp;
}

// ln(1 - (1 - F(high))/(1 - F(low))), the lower age having been survived.
void add_interval(Surface& to, const LogInterval& interval, const Place& at, double power) {
  if (std::isinf(interval.width)) {
    add(to, log_failed(at[0] + at[1] * interval.high, power), interval.high, interval.weight);
    return;
  }
  const double low = interval.high - interval.width;
  const AtAge a = log_working(at[0] + at[1] * low, power, at[2]);
  const AtAge b = log_working(at[0] + at[1] * interval.high, power, at[2]);
  const double fall = a.value - b.value;
  if (fall > 700) return;  // has failed for certain
  if (!(fall > 0)) {
    to.value = -infinity;
    return;
  }
  const double first = 1 / std::expm1(fall);
  const double second = -first * (1 + first);
  const std::array<double, 3> slope{a.z - b.z, a.z * low - b.z * interval.high, a.p - b.p};
  const double curve[3][3] = {
      {a.zz - b.zz, a.zz * low - b.zz * interval.high, a.zp - b.zp},
      {0, a.zz * low * low - b.zz * interval.high * interval.high, a.zp * low - b.zp * interval.high},
      {0, 0, a.pp - b.pp}};
  to.value += interval.weight * std::log(-std::expm1(-fall));
  for (std::size_t i = 0; i < 3; ++i) {
    to.slope[i] += interval.weight * first * slope[i];
    for (std::size_t j = i; j < 3; ++j) {
      to.curve[i][j] += interval.weight * (second * slope[i] * slope[j] + first * curve[i][j]);
    }
  }
}

Surface surface_at(const Observations& seen, const Place& at) {
  Surface out;
  const double power = std::exp(at[2]);
  for (const LogAge& failure : seen.failures) {
    const double z = at[0] + at[1] * failure.x;
    const double u = std::exp(z);
    // Of ln(age), which adds a constant: ln f = ln(power shape) + z - u + (power - 1) ln(1 - exp(-u)), the last being
    // ln F (1 - 1/power)
    AtAge f = log_failed(z, power);
    const double rest = 1 - 1 / power;
    f.value = rest * f.value + z - u;
    f.z = rest * f.z + 1 - u;
    f.zz = rest * f.zz - u;
    // f.p, f.pp and f.zp are derivatives of power ln(1 - exp(-u)): the part with -1 does not move with the
    // power
    add(out, f, failure.x, failure.weight);
  }
  out.value += seen.exact * (at[2] + std::log(at[1]));
  out.slope[2] += seen.exact;
  out.slope[1] += seen.exact / at[1];
  out.curve[1][1] -= seen.exact / (at[1] * at[1]);
  for (const LogAge& survivor : seen.survivors) {
    add(out, log_working(at[0] + at[1] * survivor.x, power, at[2]), survivor.x, survivor.weight);
  }
  for (const LogInterval& interval : seen.intervals) add_interval(out, interval, at, power);
  return out;
}

// Newton's step in the first `free` parameters, by Cholesky's factors of the curvature, raised until they
// exist.
Place newton_step(const Surface& s, std::size_t free) {
  for (double lift = 0; lift<1e12; lift = lift> 0 ? 8 * lift : 1e-6) {
    double factor[3][3] = {};
    bool dome = true;
    for (std::size_t i = 0; i < free && dome; ++i) {
      for (std::size_t j = 0; j <= i; ++j) {
        double sum = -s.curve[j][i];
        if (i == j) sum += lift * (1 + std::abs(sum));
        for (std::size_t k = 0; k < j; ++k) sum -= factor[i][k] * factor[j][k];
        if (i == j) {
          dome = sum > 0;
          factor[i][i] = std::sqrt(std::max(sum, 0.0));
        } else {
          factor[i][j] = sum / factor[j][j];
        }
      }
    }
    if (!dome) continue;
    Place step{};
    for (std::size_t i = 0; i < free; ++i) {
      double sum = s.slope[i];
      for (std::size_t k = 0; k < i; ++k) sum -= factor[i][k] * step[k];
      step[i] = sum / factor[i][i];
    }
    for (std::size_t i = free; i-- > 0;) {
      for (std::size_t k = i + 1; k < free; ++k) step[i] -= factor[k][i] * step[k];
      step[i] /= factor[i][i];
    }
    if (std::isfinite(step[0]) && std::isfinite(step[1]) && std::isfinite(step[2])) return step;
  }
  return {};
}

// The greatest log-likelihood that is found uphill from the Weibull law.
double greatest_value(const Observations& seen, Place at) {
  Surface here = surface_at(seen, at);
  for (int i = 0; i < 100; ++i) {
    // At a bound of the power only the other two move, until the slope leads back inside.
    const bool held = std::abs(at[2]) >= log_power_bound && here.slope[2] * at[2] > 0;
    const Place step = newton_step(here, held ? 2 : 3);
    const double gain = step[0] * here.slope[0] + step[1] * here.slope[1] + step[2] * here.slope[2];
    if (!(gain > 1e-9)) break;
    double t = 1;
    if (step[1] < 0) t = std::min(t, -0.8 * at[1] / step[1]);
    if (std::abs(step[2]) > 1) t = std::min(t, 1 / std::abs(step[2]));
    if (step[2] != 0) {
      const double room =
          (step[2] > 0 ? log_power_bound - at[2] : log_power_bound + at[2]) / std::abs(step[2]);
      t = std::min(t, std::max(room, 0.0));
    }
    bool moved = false;
    for (int halving = 0; halving < 40; ++halving, t /= 2) {
      const Place next{at[0] + t * step[0], at[1] + t * step[1], at[2] + t * step[2]};
      const Surface there = surface_at(seen, next);
      if (!(there.value >= here.value + 1e-4 * t * gain)) continue;
      at = next;
      if (std::abs(at[2]) > log_power_bound - 1e-12) at[2] = std::copysign(log_power_bound, at[2]);
      here = there;
      moved = true;
      break;
    }
    if (!moved) break;
  }
  return here.value;
}

}  // namespace

std::optional<FitTest> test_of_fit(const Observations& seen, const Maximum& maximum) {
  if (seen.exact + seen.between < least_failures_for_test) return std::nullopt;
  const Place weibull{maximum.level, maximum.shape, 0};
  const Observations terms = gathered(seen, maximum.shape);
  const double gain = greatest_value(terms, weibull) - surface_at(terms, weibull).value;
  if (!std::isfinite(gain)) return std::nullopt;
  FitTest out;
  out.method = "likelihood ratio against the exponentiated Weibull law";
  out.statistic = std::max(0.0, 2 * gain);
  out.chance = chi_squared_tail(out.statistic, 1);
  return out;
}

}  // namespace mendworth::lifetime
