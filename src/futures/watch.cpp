#include "futures/watch.hpp"

#include <algorithm>
#include <memory>

#include "futures/parallel.hpp"
#include "futures/worker.hpp"

namespace mendworth {
namespace {

constexpr int futures_a_block = 256;

}  // namespace

void watch_futures(const Scene& scene, const std::vector<Option>& options, const WatchSettings& settings,
                   const Watcher& watcher) {
  const int blocks = (settings.futures + futures_a_block - 1) / futures_a_block;
  const int threads = std::clamp(settings.threads, 1, std::max(blocks, 1));
  struct Desk {
    std::unique_ptr<Worker> worker;
    Tally tally;
  };
  std::vector<Desk> desks(static_cast<std::size_t>(threads));
  for_each_parallel(blocks, threads, [&](int w, int b) {
    Desk& desk = desks[static_cast<std::size_t>(w)];
    if (!desk.worker) {
      desk.worker = std::make_unique<Worker>(scene, WorkerSettings{.seed = settings.seed});
      desk.tally.reset(scene.items.size());
    }
    const int end = std::min((b + 1) * futures_a_block, settings.futures);
    for (int f = b * futures_a_block; f < end; ++f) {
      Future& future = desk.worker->begin(static_cast<std::uint64_t>(f));
      for (std::size_t o = 0; o < options.size(); ++o) {
        desk.tally.clear();
        desk.worker->runner().run(options[o], future, desk.worker->prices(), desk.tally, {});
        watcher(f, o, desk.tally, future);
      }
    }
  });
}

}  // namespace mendworth
