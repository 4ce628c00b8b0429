#include "model/trial_order.hpp"

#include <algorithm>
#include <limits>

#include "model/fit.hpp"

namespace mendworth {

double fit_chance(const Case& c, int part, int candidate) {
  const Part& of = c.parts[static_cast<std::size_t>(part)];
  return fit_chance(of, of.candidates[static_cast<std::size_t>(candidate)]);
}

double misfit_cost(const Case& c, int part) {
  const auto takes_it = [part](const PositionGroup& group) { return group.part == part; };
  const auto group = std::find_if(c.positions.begin(), c.positions.end(), takes_it);
  if (group == c.positions.end()) return 0;
  const double minute = c.labour.rate_per_hour.base() / 60.0;
  double opening = (c.labour.visit_minutes.base() + group->minutes.base()) * minute +
                   c.downtime.bench_days.base() * c.downtime.per_day.base();
  for (const Consumable& item : c.consumables) opening += item.price.base() * item.chance.base();
  const double closed = c.risks.misfit_found_after_closing.base();
  return closed * opening + (1.0 - closed) * c.risks.dry_fit_minutes.base() * minute;
}

std::vector<int> trial_order(const Case& c, const OrderBook& book, int part, int first, int hedge,
                             const std::vector<int>& orders) {
  const int count = static_cast<int>(orders.size());
  std::vector<int> trial{first};
  if (hedge >= 0) trial.push_back(hedge);
  const auto fixed = static_cast<std::ptrdiff_t>(trial.size());
  for (int i = 1; i < count; ++i) {
    const int next = (first + i) % count;
    if (next != hedge) trial.push_back(next);
  }
  const double misfit = misfit_cost(c, part);
  const auto cost_a_fit = [&](int candidate) {
    const int kind = orders[static_cast<std::size_t>(candidate)];
    const double chance = fit_chance(c, part, candidate);
    if (kind < 0 || chance <= 0) return std::numeric_limits<double>::infinity();
    const LandedCost& order = book.order(kind).cost;
    return (order.total + order.wait_days * c.downtime.per_day.base() + misfit) / chance;
  };
  std::stable_sort(trial.begin() + fixed, trial.end(),
                   [&](int a, int b) { return cost_a_fit(a) < cost_a_fit(b); });
  return trial;
}

}  // namespace mendworth
