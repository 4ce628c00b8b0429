#include "futures/ensemble.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>

#include "futures/parallel.hpp"
#include "futures/worker.hpp"

namespace mendworth {
namespace {

constexpr int least_block = 64, most_block = 16384, most_blocks = 256;

/// Futures a block: enough blocks to share among threads, few enough to keep their tallies in memory. Depends on
/// nothing but the number of futures, so the order of summation does not either.
int block_size_for(int futures) {
  int size = least_block;
  while (size < most_block && futures / size > most_blocks) size *= 2;
  return size;
}

/// Groups of options that run together, each in the order of rising limits.
std::vector<std::vector<std::size_t>> shared_runs(const std::vector<Option>& options,
                                                  const std::vector<int>& fallbacks) {
  std::vector<std::size_t> order(options.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return options[a].plan.later_limit < options[b].plan.later_limit;
  });
  std::vector<std::vector<std::size_t>> shares;
  for (const std::size_t o : order) {
    const Lane lane{.option = &options[o], .fallback = fallbacks[o]};
    const auto fitting =
        std::find_if(shares.begin(), shares.end(), [&](const std::vector<std::size_t>& share) {
          return can_share({.option = &options[share.back()], .fallback = fallbacks[share.back()]}, lane);
        });
    if (fitting == shares.end()) {
      shares.push_back({o});
    } else {
      fitting->push_back(o);
    }
  }
  return shares;
}

/// Standard error of the mean cost of n futures.
double error_of(const Tally& tally, double n) {
  if (n < 2) return 0.0;
  const double mean = tally.cost / n;
  return std::sqrt(std::max(0.0, tally.cost_squared / n - mean * mean) / (n - 1.0));
}

}  // namespace

Ensemble run_ensemble(const DeviceModel& model, const OrderBook& book, const std::vector<Option>& options,
                      const std::vector<int>& fallbacks, const EnsembleSettings& settings) {
  const std::size_t count = options.size();
  const int items = settings.keep_items ? model.layout.size(book.size()) : 0;
  const int block_size = block_size_for(settings.futures);
  const int blocks = (settings.futures + block_size - 1) / block_size;
  const int threads = std::clamp(settings.threads, 1, std::max(blocks, 1));

  Ensemble result;
  result.futures = settings.futures;
  result.runs.assign(count, settings.futures);
  result.tallies.resize(count);
  for (auto& tally : result.tallies) tally.reset(items);
  if (settings.keep_costs) {
    result.costs.assign(count, std::vector<double>(static_cast<std::size_t>(settings.futures)));
  }
  std::vector<std::vector<Timeline>> block_timelines(static_cast<std::size_t>(blocks));
  std::vector<std::vector<Tally>> block_tallies(static_cast<std::size_t>(blocks));
  std::vector<std::unique_ptr<Worker>> workers(static_cast<std::size_t>(threads));

  const auto shares = shared_runs(options, fallbacks);
  for_each_parallel(blocks, threads, [&](int w, int b) {
    auto& worker = workers[static_cast<std::size_t>(w)];
    if (!worker)
      worker = std::make_unique<Worker>(
          model, book, WorkerSettings{.seed = settings.seed, .draw_prices = settings.draw_prices});
    auto& tallies = block_tallies[static_cast<std::size_t>(b)];
    tallies.resize(count);
    for (auto& tally : tallies) tally.reset(items);
    auto& timelines = block_timelines[static_cast<std::size_t>(b)];
    if (settings.timeline_bins > 0) timelines.assign(count, Timeline(settings.timeline_bins));

    std::vector<Lane> lanes;
    for (const auto& share : shares) {
      for (const std::size_t o : share) {
        lanes.push_back({.option = &options[o],
                         .fallback = fallbacks[o],
                         .tally = &tallies[o],
                         .timeline = timelines.empty() ? nullptr : &timelines[o]});
      }
    }
    const int end = std::min((b + 1) * block_size, settings.futures);
    for (int f = b * block_size; f < end; ++f) {
      Future& future = worker->begin(static_cast<std::uint64_t>(settings.first_future + f));
      std::span<Lane> rest(lanes);
      for (const auto& share : shares) {
        const auto together = rest.first(share.size());
        rest = rest.subspan(share.size());
        worker->runner().run(together, future, worker->prices());
        if (!settings.keep_costs) continue;
        for (std::size_t i = 0; i < share.size(); ++i) {
          result.costs[share[i]][static_cast<std::size_t>(f)] = together[i].cost;
        }
      }
    }
  });

  for (const auto& tallies : block_tallies) {
    for (std::size_t o = 0; o < count; ++o) result.tallies[o].add(tallies[o]);
  }
  for (const auto& tally : result.tallies) result.errors.push_back(error_of(tally, settings.futures));
  if (settings.timeline_bins > 0) {
    result.timelines.assign(count,
                            std::vector<double>(static_cast<std::size_t>(settings.timeline_bins), 0.0));
    for (const auto& timelines : block_timelines) {
      for (std::size_t o = 0; o < count; ++o) {
        for (std::size_t i = 0; i < result.timelines[o].size(); ++i) {
          result.timelines[o][i] += timelines[o].cost[i] / settings.futures;
        }
      }
    }
  }
  return result;
}

}  // namespace mendworth
