#include "model/chain.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "model/device_model.hpp"

namespace mendworth {
namespace {

constexpr int range_steps = 16;  ///< of a need that is a range

}  // namespace

Chains::Chains(const Case& c, const Items& items, const std::vector<UnitCost>& unit, ModelCache& cache)
    : growth_(std::log1p(c.horizon.discount_rate.base())) {
  for (const Replacement& r : c.replacements)
    courses_.push_back(cache.chain_course(r, c.horizon.years, c.horizon.discount_rate.base()));
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
  if (!ends_) return device / (1.0 - course(replacement).worth_at_end) + benefit / growth_;
  return device * devices_over(replacement, *ends_) + benefit * annuity(*ends_) +
         cost(items.devices[r].resale) * worth(*ends_);
}

double Chains::devices_over(int replacement, double h) const {
  const std::vector<double>& devices = course(replacement).devices;
  const double place = std::clamp(h / course(replacement).step, 0.0, static_cast<double>(ChainCourse::steps));
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
    const double v = course(best_).worth_at_end;
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
    const double v = course(replacement).worth_at_end;
    bought.benefit = (1.0 - v) / growth_;
    bought.after = from(0, 0);
    for (double* amount : {&bought.after.first, &bought.after.later, &bought.after.benefit}) *amount *= v;
    bought.replaced = 1;
    return bought;
  }
  const double step = end / ChainCourse::steps;
  const auto survival_at = [&](double t) {
    const std::vector<double>& table = course(replacement).survival;
    const double place = t / course(replacement).step;
    const auto below = std::min(static_cast<std::size_t>(place), table.size() - 2);
    return table[below] + (place - static_cast<double>(below)) * (table[below + 1] - table[below]);
  };
  double before = 1.0;
  for (int j = 1; j <= ChainCourse::steps; ++j) {
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
