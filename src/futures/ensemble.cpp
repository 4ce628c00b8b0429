#include "futures/ensemble.hpp"

#include <algorithm>
#include <memory>
#include <utility>

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

}  // namespace

Ensemble run_ensemble(const Scene& scene, const std::vector<Option>& options,
                      const EnsembleSettings& settings) {
  const std::size_t count = options.size();
  const int items = settings.keep_items ? scene.items.size() : 0;
  const int futures = settings.futures - settings.from;
  const int block_size = block_size_for(futures);
  const int blocks = (futures + block_size - 1) / block_size;
  const int threads = std::clamp(settings.threads, 1, std::max(blocks, 1));
  const bool timed = settings.timeline_bins > 0;
  const bool drawn = settings.draw_prices && scene.model.price_uncertain;
  const Timeline no_time(timed ? settings.timeline_years / settings.timeline_bins : 1.0,
                         settings.timeline_bins);

  Ensemble result;
  result.futures = futures;
  result.runs.assign(count, futures);
  result.tallies.resize(count);
  for (auto& tally : result.tallies) tally.reset(items);
  if (settings.keep_costs) {
    result.costs.assign(count, std::vector<double>(static_cast<std::size_t>(futures)));
    if (drawn) result.drawn_costs = result.costs;
  }
  struct Block {
    std::vector<Tally> tallies;
    std::vector<Timeline> timelines;
    std::vector<Amounts> amounts;
  };
  std::vector<Block> sums(static_cast<std::size_t>(blocks));
  std::vector<std::unique_ptr<Worker>> workers(static_cast<std::size_t>(threads));
  for_each_parallel(blocks, threads, [&](int w, int b) {
    auto& worker = workers[static_cast<std::size_t>(w)];
    if (!worker)
      worker = std::make_unique<Worker>(
          scene, WorkerSettings{.seed = settings.seed, .draw_prices = settings.draw_prices});
    Block& block = sums[static_cast<std::size_t>(b)];
    block.tallies.resize(count);
    for (auto& tally : block.tallies) tally.reset(items);
    if (timed) block.timelines.assign(count, no_time);
    if (settings.keep_amounts) block.amounts.resize(count);
    const int end = std::min(settings.from + (b + 1) * block_size, settings.futures);
    for (int f = settings.from + b * block_size; f < end; ++f) {
      Future& future = worker->begin(static_cast<std::uint64_t>(f));
      for (std::size_t o = 0; o < count; ++o) {
        double as_drawn = 0;
        const double cost =
            worker->runner().run(options[o], future, worker->prices(), block.tallies[o],
                                 {.timeline = timed ? &block.timelines[o] : nullptr,
                                  .amounts = settings.keep_amounts ? &block.amounts[o] : nullptr,
                                  .drawn_cost = drawn ? &as_drawn : nullptr});
        if (!settings.keep_costs) continue;
        const auto place = static_cast<std::size_t>(f - settings.from);
        result.costs[o][place] = cost;
        if (drawn) result.drawn_costs[o][place] = as_drawn;
      }
    }
  });

  if (settings.keep_amounts) result.amounts.resize(count);
  for (const Block& block : sums) {
    for (std::size_t o = 0; o < count; ++o) {
      result.tallies[o].add(block.tallies[o]);
      if (settings.keep_amounts) result.amounts[o].add(block.amounts[o]);
    }
  }
  for (const auto& tally : result.tallies) result.errors.push_back(mean_of(tally.costs, futures).error);
  if (!timed) return result;
  result.timelines.assign(count, no_time);
  for (std::size_t o = 0; o < count; ++o) {
    Timeline& mean = result.timelines[o];
    for (const Block& block : sums) mean.add(block.timelines[o]);
    for (auto* values : {&mean.cost, &mean.money, &mean.given_up}) {
      for (double& value : *values) value /= futures;
    }
  }
  return result;
}

void Ensemble::append(const Ensemble& next) {
  futures += next.futures;
  for (std::size_t o = 0; o < tallies.size(); ++o) {
    runs[o] += next.runs[o];
    tallies[o].add(next.tallies[o]);
    errors[o] = mean_of(tallies[o].costs, futures).error;
    if (!amounts.empty()) amounts[o].add(next.amounts[o]);
    const auto join = [o](auto& to, const auto& from) {
      if (!to.empty()) to[o].insert(to[o].end(), from[o].begin(), from[o].end());
    };
    join(costs, next.costs);
    join(drawn_costs, next.drawn_costs);
  }
}

std::vector<Trace> run_traces(const Scene& scene, const Option& option, bool all_well_now,
                              const EnsembleSettings& settings, std::vector<Trace> others) {
  const int block_size = block_size_for(settings.futures);
  const int blocks = (settings.futures + block_size - 1) / block_size;
  const int threads = std::clamp(settings.threads, 1, std::max(blocks, 1));
  std::vector<Trace> traces = std::move(others);
  traces.resize(static_cast<std::size_t>(settings.futures));
  std::vector<std::unique_ptr<Worker>> workers(static_cast<std::size_t>(threads));
  for_each_parallel(blocks, threads, [&](int w, int b) {
    auto& worker = workers[static_cast<std::size_t>(w)];
    if (!worker)
      worker = std::make_unique<Worker>(scene, WorkerSettings{.seed = settings.seed, .draw_prices = false});
    Tally tally;
    const int end = std::min((b + 1) * block_size, settings.futures);
    for (int f = b * block_size; f < end; ++f) {
      Future& future = worker->begin(static_cast<std::uint64_t>(f));
      Trace& trace = traces[static_cast<std::size_t>(f)];
      trace.events.clear();
      worker->runner().run(option, future, worker->prices(), tally,
                           {.trace = &trace, .all_well_now = all_well_now});
    }
  });
  return traces;
}

}  // namespace mendworth
