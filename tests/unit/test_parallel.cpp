#include <doctest/doctest.h>

#include <atomic>
#include <chrono>
#include <stdexcept>
#include <thread>
#include <vector>

#include "futures/parallel.hpp"

using namespace mendworth;

TEST_CASE("for_each_parallel: every index once, by a worker that there is") {
  for (const int threads : {0, 1, 2, 7}) {
    CAPTURE(threads);
    std::vector<std::atomic<int>> done(20);
    std::atomic<bool> known = true;
    for_each_parallel(20, threads, [&](int worker, int index) {
      if (worker < 0 || worker >= (threads > 1 ? threads : 1)) known = false;
      ++done[static_cast<std::size_t>(index)];
    });
    CHECK(known);
    for (const auto& times : done) CHECK(times == 1);
  }
}

TEST_CASE("for_each_parallel: two threads are at work at the same time") {
  std::atomic<int> begun = 0, met = 0;
  for_each_parallel(2, 2, [&](int, int) {
    ++begun;
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(20);
    while (begun < 2 && std::chrono::steady_clock::now() < end) std::this_thread::yield();
    if (begun == 2) ++met;
  });
  CHECK(met == 2);  // one after the other, the first would wait in vain
}

TEST_CASE("for_each_parallel: what one piece of work throws arrives, and the others end") {
  for (const int threads : {1, 3}) {
    CAPTURE(threads);
    CHECK_THROWS_AS(for_each_parallel(50, threads,
                                      [](int, int index) {
                                        if (index == 5) throw std::runtime_error("five");
                                      }),
                    std::runtime_error);
  }
}
