#include "futures/life_sample.hpp"

#include <cmath>
#include <memory>

#include "futures/parallel.hpp"

namespace mendworth {
namespace {

constexpr int block_size = 256;

using Chances = std::vector<std::vector<double>>;  // per group, summed over futures

Chances none_of(const std::vector<std::vector<double>>& years) {
  Chances chances;
  for (const auto& of_group : years) chances.emplace_back(of_group.size(), 0.0);
  return chances;
}

/// Chance that a surviving original of the group fails within the years, given its law: its mean over futures is far
/// less noisy than a count of failures.
double failure_chance(const Physics& physics, std::size_t group, const LifeDraw& law, double years) {
  const double log_now = physics.groups[group].log_share - law.log_scale;
  const double log_then = log_now + std::log1p(years / physics.age_years);
  const double by_wear = -std::expm1(std::exp(law.shape * log_now) - std::exp(law.shape * log_then));
  const double spilt = physics.common_cause_chance > 0
                           ? physics.common_cause_chance * -std::expm1(-years / physics.common_cause_years)
                           : 0.0;
  return 1.0 - (1.0 - by_wear) * (1.0 - spilt);
}

}  // namespace

LifeSample sample_lives(const Scene& scene, const std::vector<std::vector<double>>& years, std::uint64_t seed,
                        int futures, int threads) {
  const DeviceModel& model = scene.model;
  const std::size_t parts = model.c.parts.size();
  LifeSample sample;
  sample.median_wear.assign(parts, std::vector<double>(static_cast<std::size_t>(futures)));
  sample.median_years = sample.median_wear;
  const int blocks = (futures + block_size - 1) / block_size;
  std::vector<Chances> blocks_sums(static_cast<std::size_t>(blocks));
  std::vector<std::unique_ptr<Worker>> workers(static_cast<std::size_t>(std::max(threads, 1)));

  for_each_parallel(blocks, threads, [&](int w, int b) {
    auto& worker = workers[static_cast<std::size_t>(w)];
    if (!worker) worker = std::make_unique<Worker>(scene, WorkerSettings{.seed = seed, .draw_prices = false});
    auto& chances = blocks_sums[static_cast<std::size_t>(b)];
    chances = none_of(years);
    for (int f = b * block_size; f < std::min((b + 1) * block_size, futures); ++f) {
      const Future& future = worker->begin(static_cast<std::uint64_t>(f));
      const auto& physics = future.physics();
      for (std::size_t p = 0; p < parts; ++p) {
        const auto law = future.original_law(static_cast<int>(p));
        // ln 2 to the power 1/shape is the median of the unit law; z fixes the reference wear.
        const double median = std::exp(law.log_scale + std::log(std::log(2.0)) / law.shape);
        sample.median_years[p][static_cast<std::size_t>(f)] = median * physics.age_years;
        sample.median_wear[p][static_cast<std::size_t>(f)] = median * physics.parts[p].reference_wear;
      }
      for (std::size_t g = 0; g < years.size(); ++g) {
        if (years[g].empty()) continue;
        const auto law = future.original_law(model.c.positions[g].part);
        for (std::size_t k = 0; k < years[g].size(); ++k)
          chances[g][k] += failure_chance(physics, g, law, years[g][k]);
      }
    }
  });

  sample.within = none_of(years);
  for (const auto& sums : blocks_sums) {
    for (std::size_t g = 0; g < years.size(); ++g) {
      for (std::size_t k = 0; k < years[g].size(); ++k) sample.within[g][k] += sums[g][k] / futures;
    }
  }
  return sample;
}

}  // namespace mendworth
