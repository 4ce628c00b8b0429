#include <algorithm>
#include <cmath>
#include <cstddef>

#include "futures/run.hpp"

namespace mendworth {

Timeline::Timeline(double step_years, int bins)
    : step(step_years),
      cost(static_cast<std::size_t>(bins), 0.0),
      money(static_cast<std::size_t>(bins), 0.0),
      given_up(static_cast<std::size_t>(bins), 0.0) {}

void Timeline::add(const Timeline& other) {
  for (std::size_t i = 0; i < cost.size(); ++i) {
    cost[i] += other.cost[i];
    money[i] += other.money[i];
    given_up[i] += other.given_up[i];
  }
}

void Tally::Counts::add(const Counts& other) {
  later_visits += other.later_visits;
  damaged += other.damaged;
  written_off += other.written_off;
  cured += other.cured;
  replaced += other.replaced;
  spares_used += other.spares_used;
  endless += other.endless;
}

void Tally::reset(int item_count) {
  *this = Tally{};
  items.assign(static_cast<std::size_t>(item_count), Sum{});
}

void Tally::clear() {
  std::fill(items.begin(), items.end(), Sum{});
  counts = Counts{};
  cost = 0;
  costs = {};
}

void Tally::add(const Tally& other) {
  if (items.size() < other.items.size()) items.resize(other.items.size());
  for (std::size_t i = 0; i < other.items.size(); ++i) {
    items[i].amount += other.items[i].amount;
    items[i].money += other.items[i].money;
    items[i].labour += other.items[i].labour;
    items[i].downtime += other.items[i].downtime;
  }
  cost += other.cost;
  for (std::size_t r = 0; r < costs.size(); ++r) costs[r] += other.costs[r];
  counts.add(other.counts);
}

}  // namespace mendworth
