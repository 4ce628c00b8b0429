#include "answers/bulk_fleet.hpp"

#include <cmath>

#include "futures/worker.hpp"

namespace mendworth {
namespace {

/// One device that stands for all: its positions counted over the fleet, so that all of them are evidence.
Case all_in_one(const Case& c, const FleetSize& size) {
  Case all = c;
  for (PositionGroup& group : all.positions) {
    group.count *= size.devices;
    group.renewed *= size.devices;
    group.failed *= size.failed;
  }
  // A spill reached one device; it says nothing about the others.
  all.fault.common_cause_chance = Quantity{};
  return all;
}

FleetFuture laws_of(const Case& c, const Future& future) {
  const Physics& physics = future.physics();
  FleetFuture laws;
  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    const LifeDraw law = future.original_law(p);
    laws.parts.push_back({.shape = law.shape, .log_scale = law.log_scale});
  }
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    const auto& wear = physics.groups[g];
    FleetFuture::Group group;
    group.wear = std::exp(wear.log_share);
    group.wear_per_year = wear.share / physics.age_years;
    group.renewed_wear = group.wear_per_year * wear.renewed_years_ago;
    laws.groups.push_back(group);
  }
  return laws;
}

}  // namespace

double FleetFuture::failure_chance(const PositionGroup& group, std::size_t index, double wear,
                                   double years) const {
  const Part& law = parts[static_cast<std::size_t>(group.part)];
  const double further = groups[index].wear_per_year * years;
  const auto hazard = [&](double to) { return std::exp(law.shape * (std::log(to) - law.log_scale)); };
  const double so_far = wear > 0 ? hazard(wear) : 0.0;
  if (std::isinf(so_far)) return 1;  // it should not have lasted until now
  return -std::expm1(so_far - hazard(wear + further));
}

DeviceModel fleet_model(const Case& c, const FleetSize& size, ModelCache& cache) {
  DeviceModel model = DeviceModel::make(all_in_one(c, size), {}, cache);
  model.positions.clear();
  return model;
}

Fleet::Fleet(const Case& c, const FleetSize& size, int futures, std::uint64_t seed) : c_(&c), size_(size) {
  ModelCache cache;
  // Only the laws are wanted; when each single piece fails is worked out from them.
  const DeviceModel model = fleet_model(c, size, cache);
  const OrderBook book(model.c, std::vector<int>(model.c.parts.size(), 0));
  const Items items(model.c, book.size());
  const Chains chains(model.c, items, unit_costs(model.c, items, book), cache);
  Worker worker({model, items, book, chains}, {.seed = seed, .draw_prices = false});
  futures_.reserve(static_cast<std::size_t>(futures));
  for (int f = 0; f < futures; ++f)
    futures_.push_back(laws_of(c, worker.begin(static_cast<std::uint64_t>(f))));
}

Fleet::Places Fleet::places(const PositionGroup& group) const {
  const int renewed = size_.devices * group.renewed;
  return {.originals = size_.devices * group.count - size_.failed * group.failed - renewed,
          .renewed = renewed};
}

int Fleet::failed_now(std::size_t part) const {
  int pieces = 0;
  for (const PositionGroup& group : c_->positions) {
    if (group.part == static_cast<int>(part)) pieces += size_.failed * group.failed;
  }
  return pieces;
}

Demand Fleet::failures_in(const FleetFuture& future, const std::vector<std::size_t>& groups,
                          double years) const {
  Demand total;
  for (const std::size_t g : groups) {
    const PositionGroup& group = c_->positions[g];
    const Places working = places(group);
    const auto add = [&](int count, double wear) {
      if (count == 0) return;
      const double chance = future.failure_chance(group, g, wear, years);
      total = Demand::sum(total, Demand::binomial(count, chance));
    };
    add(working.originals, future.groups[g].wear);
    add(working.renewed, future.groups[g].renewed_wear);
  }
  return total;
}

Demand Fleet::failures_of(const std::vector<std::size_t>& groups, double years) const {
  std::vector<Demand> each;
  each.reserve(futures_.size());
  for (const FleetFuture& future : futures_) each.push_back(failures_in(future, groups, years));
  return Demand::mixture(each);
}

Demand Fleet::failures(std::size_t part, double years) const {
  std::vector<std::size_t> groups;
  for (std::size_t g = 0; g < c_->positions.size(); ++g) {
    if (c_->positions[g].part == static_cast<int>(part)) groups.push_back(g);
  }
  return failures_of(groups, years);
}

Demand Fleet::failures_of_all(double years) const {
  std::vector<std::size_t> groups(c_->positions.size());
  for (std::size_t g = 0; g < groups.size(); ++g) groups[g] = g;
  return failures_of(groups, years);
}

std::vector<double> Fleet::mean_failures(double years) const {
  std::vector<double> means;
  means.reserve(futures_.size());
  for (const FleetFuture& future : futures_) {
    double mean = 0;
    for (std::size_t g = 0; g < c_->positions.size(); ++g) {
      const PositionGroup& group = c_->positions[g];
      const Places working = places(group);
      mean += working.originals * future.failure_chance(group, g, future.groups[g].wear, years);
      if (working.renewed > 0)
        mean += working.renewed * future.failure_chance(group, g, future.groups[g].renewed_wear, years);
    }
    means.push_back(mean);
  }
  return means;
}

}  // namespace mendworth
