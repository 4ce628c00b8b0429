#include "answers/settings.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>
#include <thread>

namespace mendworth {
namespace {

constexpr int least_futures = 100;
constexpr int most_futures = 4'000'000;
constexpr int most_threads = 256;

}  // namespace

WeighSettings checked(WeighSettings settings) {
  if (settings.futures < least_futures || settings.futures > most_futures) {
    throw std::invalid_argument(fmt::format("futures must lie in {}..{}", least_futures, most_futures));
  }
  if (settings.threads < 0 || settings.threads > most_threads) {
    throw std::invalid_argument(fmt::format("threads must lie in 0..{}", most_threads));
  }
  if (settings.threads == 0)
    settings.threads = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  return settings;
}

}  // namespace mendworth
