#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "futures/run.hpp"

namespace mendworth {

struct WatchSettings {
  std::uint64_t seed = 1;
  int futures = 0;
  int threads = 1;  ///< never changes a result
};

/// What happened to one option in one future; `tally` holds this future alone.
using Watcher = std::function<void(int number, std::size_t option, const Tally& tally, const Future& future)>;

/// Runs every option through futures 0, 1, ... and shows each to `watcher`: for what an Ensemble, which only adds up,
/// cannot tell. Several threads call it at the same time, for different futures.
void watch_futures(const Scene& scene, const std::vector<Option>& options, const WatchSettings& settings,
                   const Watcher& watcher);

}  // namespace mendworth
