#include "futures/life_sample.hpp"

#include <cmath>
#include <memory>

#include "futures/parallel.hpp"

namespace mendworth {
namespace {

constexpr int block_size = 256;

struct Counts {
  std::vector<double> within_horizon, within_year;
};

}  // namespace

LifeSample sample_lives(const DeviceModel& model, const OrderBook& book, std::uint64_t seed, int futures,
                        int threads) {
  const std::size_t parts = model.c.parts.size(), groups = model.c.positions.size();
  LifeSample sample;
  sample.median_wear.assign(parts, std::vector<double>(static_cast<std::size_t>(futures)));
  sample.median_years = sample.median_wear;
  const int blocks = (futures + block_size - 1) / block_size;
  std::vector<Counts> counted(static_cast<std::size_t>(blocks));
  std::vector<std::unique_ptr<Worker>> workers(static_cast<std::size_t>(std::max(threads, 1)));

  for_each_parallel(blocks, threads, [&](int w, int b) {
    auto& worker = workers[static_cast<std::size_t>(w)];
    if (!worker)
      worker = std::make_unique<Worker>(model, book, WorkerSettings{.seed = seed, .draw_prices = false});
    auto& counts = counted[static_cast<std::size_t>(b)];
    counts.within_horizon.assign(groups, 0.0);
    counts.within_year.assign(groups, 0.0);
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
      for (std::size_t i = 0; i < model.positions.size(); ++i) {
        const auto& position = model.positions[i];
        if (position.state != Position::State::original) continue;
        const auto group = static_cast<std::size_t>(position.group);
        if (future.failures()[i] < physics.horizon) counts.within_horizon[group] += 1;
        if (future.failures()[i] < std::min(1.0, physics.horizon)) counts.within_year[group] += 1;
      }
    }
  });

  sample.within_horizon.assign(groups, 0.0);
  sample.within_year.assign(groups, 0.0);
  for (std::size_t g = 0; g < groups; ++g) {
    const auto& group = model.c.positions[g];
    const int survivors = group.count - group.failed - group.renewed;
    if (survivors == 0) continue;
    for (const auto& counts : counted) {
      sample.within_horizon[g] += counts.within_horizon[g] / (1.0 * futures * survivors);
      sample.within_year[g] += counts.within_year[g] / (1.0 * futures * survivors);
    }
  }
  return sample;
}

}  // namespace mendworth
