#include "answers/settings.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <thread>

namespace mendworth {
namespace {

constexpr int least_futures = 100;
constexpr int most_futures = 4'000'000;
constexpr int most_threads = 256;

}  // namespace

WeighSettings checked(WeighSettings settings) {
  if (settings.futures != 0 && (settings.futures < least_futures || settings.futures > most_futures)) {
    throw std::invalid_argument(fmt::format("futures must lie in {}..{}", least_futures, most_futures));
  }
  if (!(settings.precision >= 0) || !std::isfinite(settings.precision))
    throw std::invalid_argument("precision must be an amount of money, 0 or more");
  if (!(settings.precision_share > 0 && settings.precision_share <= 0.1))
    throw std::invalid_argument("precision must be a share above 0 and up to 0.1");
  if (settings.threads < 0 || settings.threads > most_threads) {
    throw std::invalid_argument(fmt::format("threads must lie in 0..{}", most_threads));
  }
  if (settings.threads == 0)
    settings.threads = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  return settings;
}

int at_most(int futures, const WeighSettings& settings) noexcept {
  return settings.futures == 0 ? futures : std::min(futures, settings.futures);
}

}  // namespace mendworth
