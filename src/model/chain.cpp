#include "model/chain.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "numeric/sampler.hpp"
#include "numeric/weibull.hpp"

namespace mendworth {
namespace {

constexpr int life_nodes = 12, shape_nodes = 5;  // of a range
constexpr int midpoints = 32;                    // and twice as many
constexpr int need_steps = 800;
constexpr int range_steps = 16;  ///< of a need that is a range

std::vector<double> nodes(const Quantity& q, int count) {
  if (q.is_fixed()) return {q.base()};
  const Sampler sampler(q);
  std::vector<double> values;
  for (int i = 0; i < count; ++i) values.push_back(sampler((i + 0.5) / count));
  return values;
}

std::vector<double> survival_by(const DeviceLife& life, double step, int steps) {
  std::vector<double> survival;
  for (int j = 0; j <= steps; ++j) survival.push_back(life.survival(j * step));
  return survival;
}

/// M(0), M(step), ...: the renewal equation by the trapezoidal rule for Stieltjes integrals; survival at these times.
std::vector<double> renewals(const std::vector<double>& survival, double step, double growth) {
  std::vector<double> fails(survival.size());  // in a step, at the worth of its middle
  for (std::size_t j = 1; j < fails.size(); ++j)
    fails[j] = (survival[j - 1] - survival[j]) * std::exp(-growth * (static_cast<double>(j) - 0.5) * step);
  // m[i - j] meets the later half of step j and the earlier half of step j + 1.
  std::vector<double> meets(fails.size(), 0.0);
  for (std::size_t j = 1; j + 1 < fails.size(); ++j) meets[j] = 0.5 * (fails[j] + fails[j + 1]);
  std::vector<double> m(fails.size(), 1.0);
  for (std::size_t i = 1; i < m.size(); ++i) {
    std::array<double, 4> sums = {1.0 + 0.5 * fails[i], 0, 0,
                                  0};  // four at a time: no sum waits for the last one
    std::size_t j = 1;
    for (; j + 4 <= i; j += 4) {
      for (std::size_t k = 0; k < sums.size(); ++k) sums[k] += meets[j + k] * m[i - j - k];
    }
    for (; j < i; ++j) sums[0] += meets[j] * m[i - j];
    m[i] = (sums[0] + sums[1] + sums[2] + sums[3]) / (1.0 - 0.5 * fails[1]);
  }
  return m;
}

}  // namespace

DeviceLife::DeviceLife(const Replacement& r) : mean_(r.life_years.base()) {
  const auto means = nodes(r.life_years, life_nodes);
  for (const double shape : nodes(r.life_shape, shape_nodes)) {
    OfShape of_shape{.shape = shape};
    const double scale_of_one = scale_from_mean(1.0, shape);
    for (const double mean : means) {
      of_shape.scales.push_back(mean * scale_of_one);
      of_shape.inverse_powers.push_back(std::pow(of_shape.scales.back(), -shape));
    }
    laws_.push_back(std::move(of_shape));
  }
}

double DeviceLife::survival(double years) const {
  if (years <= 0) return 1.0;
  double sum = 0;
  for (const OfShape& law : laws_) {
    const double of_scale_one = std::pow(years, law.shape);
    double of_shape = 0;
    for (const double inverse : law.inverse_powers) of_shape += std::exp(-of_scale_one * inverse);
    sum += of_shape / static_cast<double>(law.scales.size());
  }
  return sum / static_cast<double>(laws_.size());
}

double DeviceLife::worth_at_end(double growth) const {
  if (growth == 0.0) return 1.0;
  // The error of the midpoint rule falls with the square of the step: two steps put it away.
  const double coarse = worth_by_midpoints(growth, midpoints);
  return (4.0 * worth_by_midpoints(growth, 2 * midpoints) - coarse) / 3.0;
}

/// The integral over u in (0,1) in s, u = s^2 (3 - 2 s), which smooths both ends.
double DeviceLife::worth_by_midpoints(double growth, int points) const {
  double sum = 0, weights = 0;
  for (int i = 0; i < points; ++i) {
    const double s = (i + 0.5) / points;
    const double weight = s * (1 - s);
    const double log_hazard = std::log(-std::log(s * s * (3 - 2 * s)));
    weights += weight;
    for (const OfShape& law : laws_) {
      const double of_scale_one = growth * std::exp(log_hazard / law.shape);
      double of_shape = 0;
      for (const double scale : law.scales) of_shape += std::exp(-scale * of_scale_one);
      sum += weight * of_shape / static_cast<double>(law.scales.size());
    }
  }
  return sum / weights / static_cast<double>(laws_.size());
}

Chains::Times::Times(const Case& c)
    : need(c.horizon.years),
      rate(c.horizon.discount_rate.base()),
      step(need ? need->high() / need_steps : 0.0) {
  const double growth = std::log1p(rate);
  for (const Replacement& r : c.replacements) {
    lives_and_shapes.push_back(r.life_years);
    lives_and_shapes.push_back(r.life_shape);
    OfOne& one = of.emplace_back(OfOne{.life = DeviceLife(r)});
    if (!need) {
      one.worth_at_end = one.life.worth_at_end(growth);
      continue;
    }
    one.survival = survival_by(one.life, step, need_steps);
    one.devices = renewals(one.survival, step, growth);
  }
}

bool Chains::Times::go_for(const Case& c) const {
  if (c.horizon.years != need || c.horizon.discount_rate.base() != rate ||
      2 * c.replacements.size() != lives_and_shapes.size())
    return false;
  for (std::size_t r = 0; r < c.replacements.size(); ++r) {
    if (!(c.replacements[r].life_years == lives_and_shapes[2 * r] &&
          c.replacements[r].life_shape == lives_and_shapes[2 * r + 1]))
      return false;
  }
  return true;
}

Chains::Chains(const Case& c, const Items& items, const std::vector<UnitCost>& unit, const Chains* like)
    : times_(like != nullptr && like->times_->go_for(c) ? like->times_ : std::make_shared<const Times>(c)),
      growth_(std::log1p(c.horizon.discount_rate.base())) {
  if (c.horizon.years) ends_ = c.horizon.years->base();
  relative_ = !ends_ && growth_ == 0.0;
  const int count = static_cast<int>(c.replacements.size());
  if (c.device.must_keep || count == 0) return;

  double least = std::numeric_limits<double>::infinity();
  const bool any_price = std::any_of(c.replacements.begin(), c.replacements.end(),
                                     [](const Replacement& r) { return r.price.has_value(); });
  for (int r = 0; r < count; ++r) {
    if (any_price && !c.replacements[static_cast<std::size_t>(r)].price) continue;
    const double cost = chain_cost(r, items, unit);
    if (cost < least) {
      least = cost;
      best_ = r;
    }
  }
  if (ends_) {
    per_year_ = least / annuity(*ends_);
    cost_ = least;
  } else {
    per_year_ = relative_ ? least : least * growth_;
    cost_ = relative_ ? 0.0 : least;
  }
  ends_tried_.push_back(ends_.value_or(0.0));
  if (ends_ && !c.horizon.years->is_fixed()) {
    const double low = c.horizon.years->low(), width = c.horizon.years->high() - low;
    ends_tried_.clear();
    for (int i = 0; i <= range_steps; ++i) ends_tried_.push_back(low + width * i / range_steps);
  }
  for (int r = 0; r < count; ++r) {
    auto& at_ends = bought_.emplace_back();
    for (const double end : ends_tried_) at_ends.push_back(work_out(r, end));
  }
}

Chains::Bought Chains::bought(int replacement, double end) const {
  const auto& at_ends = bought_[static_cast<std::size_t>(replacement)];
  if (at_ends.size() == 1) return at_ends.front();
  const double width = ends_tried_.back() - ends_tried_.front();
  const double place = std::clamp((end - ends_tried_.front()) / width, 0.0, 1.0) * range_steps;
  const auto below = std::min(static_cast<std::size_t>(place), at_ends.size() - 2);
  const Bought &a = at_ends[below], &b = at_ends[below + 1];
  const double part = place - static_cast<double>(below);
  const auto between = [part](double x, double y) { return x + part * (y - x); };
  return {.benefit = between(a.benefit, b.benefit),
          .resale = between(a.resale, b.resale),
          .after = {.first = between(a.after.first, b.after.first),
                    .later = between(a.after.later, b.after.later),
                    .benefit = between(a.after.benefit, b.after.benefit),
                    .resale = between(a.after.resale, b.after.resale)},
          .replaced = between(a.replaced, b.replaced)};
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
  if (relative_) return device / life(replacement).mean() + benefit;
  if (!ends_) return device / (1.0 - of(replacement).worth_at_end) + benefit / growth_;
  return device * devices_over(replacement, *ends_) + benefit * annuity(*ends_) +
         cost(items.devices[r].resale) * worth(*ends_);
}

std::vector<double> Chains::purchases_by(int replacement, double step, int steps, double growth) const {
  return renewals(survival_by(life(replacement), step, steps), step, growth);
}

double Chains::devices_over(int replacement, double h) const {
  const std::vector<double>& devices = of(replacement).devices;
  const double place = std::clamp(h / times_->step, 0.0, static_cast<double>(need_steps));
  const auto below = std::min(static_cast<std::size_t>(place), devices.size() - 2);
  const double part = place - static_cast<double>(below);
  return devices[below] + part * (devices[below + 1] - devices[below]);
}

Chains::Amounts Chains::from(double t, double end) const {
  if (relative_) {
    const double devices = -t / life(best_).mean();
    return {.first = 1.0, .later = devices - 1.0, .benefit = -t, .resale = 0.0};
  }
  const double now = worth(t);
  if (!ends_) {
    const double v = of(best_).worth_at_end;
    return {.first = now, .later = now * v / (1.0 - v), .benefit = now / growth_, .resale = 0.0};
  }
  if (t >= end) return {};
  return {.first = now,
          .later = now * (devices_over(best_, end - t) - 1.0),
          .benefit = now * annuity(end - t),
          .resale = worth(end)};
}

Chains::Bought Chains::work_out(int replacement, double end) const {
  const DeviceLife& own = life(replacement);
  Bought bought;
  if (relative_) {
    bought.benefit = own.mean();
    bought.after = from(own.mean(), 0);
    bought.replaced = 1;
    return bought;
  }
  if (!ends_) {
    const double v = of(replacement).worth_at_end;
    bought.benefit = (1.0 - v) / growth_;
    bought.after = from(0, 0);
    for (double* amount : {&bought.after.first, &bought.after.later, &bought.after.benefit}) *amount *= v;
    bought.replaced = 1;
    return bought;
  }
  const double step = end / need_steps;
  const auto survival_at = [&](double t) {
    const std::vector<double>& table = of(replacement).survival;
    const double place = t / times_->step;
    const auto below = std::min(static_cast<std::size_t>(place), table.size() - 2);
    return table[below] + (place - static_cast<double>(below)) * (table[below + 1] - table[below]);
  };
  double before = 1.0;
  for (int j = 1; j <= need_steps; ++j) {
    const double after = survival_at(j * step);
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
