#include "model/chain.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "numeric/sampler.hpp"

namespace mendworth {
namespace {

constexpr int life_nodes = 12, shape_nodes = 5;  // of a range
constexpr int integration_points = 256;
constexpr int need_steps = 800;

std::vector<double> nodes(const Quantity& q, int count) {
  if (q.is_fixed()) return {q.base()};
  const Sampler sampler(q);
  std::vector<double> values;
  for (int i = 0; i < count; ++i) values.push_back(sampler((i + 0.5) / count));
  return values;
}

}  // namespace

DeviceLife::DeviceLife(const Replacement& r) : mean_(r.life_years.base()) {
  for (const double shape : nodes(r.life_shape, shape_nodes)) {
    const double scale_of_one = scale_from_mean(1.0, shape);
    for (const double mean : nodes(r.life_years, life_nodes)) laws_.push_back({mean * scale_of_one, shape});
  }
}

double DeviceLife::survival(double years) const {
  double sum = 0;
  for (const auto& law : laws_) sum += mendworth::survival(law, std::max(years, 0.0));
  return sum / static_cast<double>(laws_.size());
}

double DeviceLife::worth_at_end(double growth) const {
  if (growth == 0.0) return 1.0;
  // The integral over u in (0,1) in s, u = s^2 (3 - 2 s), which smooths both ends.
  double sum = 0, weights = 0;
  for (int i = 0; i < integration_points; ++i) {
    const double s = (i + 0.5) / integration_points;
    const double weight = s * (1 - s);
    const double hazard = -std::log(s * s * (3 - 2 * s));
    weights += weight;
    for (const auto& law : laws_) {
      sum += weight * std::exp(-growth * law.scale * std::pow(hazard, 1.0 / law.shape));
    }
  }
  return sum / weights / static_cast<double>(laws_.size());
}

Chains::Chains(const Case& c, const Items& items, const std::vector<UnitCost>& unit)
    : growth_(std::log1p(c.horizon.discount_rate.base())) {
  if (c.horizon.years) ends_ = c.horizon.years->base();
  relative_ = !ends_ && growth_ == 0.0;
  for (const auto& r : c.replacements) lives_.emplace_back(r);
  if (c.device.must_keep || lives_.empty()) return;

  double least = std::numeric_limits<double>::infinity();
  const bool any_price = std::any_of(c.replacements.begin(), c.replacements.end(),
                                     [](const Replacement& r) { return r.price.has_value(); });
  for (int r = 0; r < static_cast<int>(lives_.size()); ++r) {
    if (any_price && !c.replacements[static_cast<std::size_t>(r)].price) continue;
    const double cost = chain_cost(r, items, unit);
    if (cost < least) {
      least = cost;
      best_ = r;
    }
  }
  if (ends_) {
    const double longest = c.horizon.years->high();
    step_ = longest / need_steps;
    devices_ = renewals(best_, step_, need_steps, growth_);
    per_year_ = least / annuity(*ends_);
    cost_ = least;
  } else {
    best_worth_at_end_ = life(best_).worth_at_end(growth_);
    per_year_ = relative_ ? least : least * growth_;
    cost_ = relative_ ? 0.0 : least;
  }
  for (int r = 0; r < static_cast<int>(lives_.size()); ++r) bought_.push_back(work_out(r));
}

double Chains::worth(double t) const { return std::exp(-growth_ * t); }

double Chains::annuity(double t) const {
  return std::abs(growth_) < 1e-12 ? t : -std::expm1(-growth_ * t) / growth_;
}

/// Present cost of a chain; where sums are endless, its cost a year.
double Chains::chain_cost(int replacement, const Items& items, const std::vector<UnitCost>& unit) const {
  const auto r = static_cast<std::size_t>(replacement);
  const auto cost = [&unit](int item) { return unit[static_cast<std::size_t>(item)].total(); };
  const double device = cost(items.devices[r].device[Phase::later]);
  const double benefit = cost(items.devices[r].benefit);
  if (relative_) return device / lives_[r].mean() + benefit;
  if (!ends_) return device / (1.0 - lives_[r].worth_at_end(growth_)) + benefit / growth_;
  return device * renewals(replacement, *ends_ / need_steps, need_steps, growth_).back() +
         benefit * annuity(*ends_) + cost(items.devices[r].resale) * worth(*ends_);
}

/// M(0), M(step), ...: the renewal equation by the trapezoidal rule for Stieltjes integrals.
std::vector<double> Chains::renewals(int replacement, double step, int steps, double growth) const {
  const auto& life = lives_[static_cast<std::size_t>(replacement)];
  std::vector<double> fails(static_cast<std::size_t>(steps) + 1);  // in a step, at the worth of its middle
  double before = 1.0;
  for (std::size_t j = 1; j < fails.size(); ++j) {
    const double after = life.survival(static_cast<double>(j) * step);
    fails[j] = (before - after) * std::exp(-growth * (static_cast<double>(j) - 0.5) * step);
    before = after;
  }
  std::vector<double> m(fails.size(), 1.0);
  for (std::size_t i = 1; i < m.size(); ++i) {
    double sum = 1.0 + 0.5 * fails[1] * m[i - 1];
    for (std::size_t j = 2; j <= i; ++j) sum += fails[j] * 0.5 * (m[i - j] + m[i - j + 1]);
    m[i] = sum / (1.0 - 0.5 * fails[1]);
  }
  return m;
}

double Chains::devices_over(double h) const {
  const double place = std::clamp(h / step_, 0.0, static_cast<double>(need_steps));
  const auto below = std::min(static_cast<std::size_t>(place), devices_.size() - 2);
  const double part = place - static_cast<double>(below);
  return devices_[below] + part * (devices_[below + 1] - devices_[below]);
}

Chains::Amounts Chains::from(double t, double end) const {
  if (relative_) {
    const double devices = -t / life(best_).mean();
    return {.first = 1.0, .later = devices - 1.0, .benefit = -t, .resale = 0.0};
  }
  const double now = worth(t);
  if (!ends_) {
    const double v = best_worth_at_end_;
    return {.first = now, .later = now * v / (1.0 - v), .benefit = now / growth_, .resale = 0.0};
  }
  if (t >= end) return {};
  return {.first = now,
          .later = now * (devices_over(end - t) - 1.0),
          .benefit = now * annuity(end - t),
          .resale = worth(end)};
}

Chains::Bought Chains::work_out(int replacement) const {
  const DeviceLife& own = life(replacement);
  Bought bought;
  if (relative_) {
    bought.benefit = own.mean();
    bought.after = from(own.mean(), 0);
    bought.replaced = 1;
    return bought;
  }
  if (!ends_) {
    const double v = own.worth_at_end(growth_);
    bought.benefit = (1.0 - v) / growth_;
    bought.after = from(0, 0);
    for (double* amount : {&bought.after.first, &bought.after.later, &bought.after.benefit}) *amount *= v;
    bought.replaced = 1;
    return bought;
  }
  const double end = *ends_;
  const double step = end / need_steps;
  double before = 1.0;
  for (int j = 1; j <= need_steps; ++j) {
    const double after = own.survival(j * step);
    const Amounts then = from((j - 0.5) * step, end);
    const double chance = before - after;
    bought.after.first += chance * then.first;
    bought.after.later += chance * then.later;
    bought.after.benefit += chance * then.benefit;
    bought.after.resale += chance * then.resale;
    bought.benefit += 0.5 * (before + after) * (annuity(j * step) - annuity((j - 1) * step));
    before = after;
  }
  bought.resale = before * worth(end);
  bought.replaced = 1.0 - before;
  return bought;
}

}  // namespace mendworth
