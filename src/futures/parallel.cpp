#include "futures/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace mendworth {

namespace {

thread_local const std::atomic<bool>* stop_flag = nullptr;

void end_if_stopped() {
  if (stop_flag != nullptr && *stop_flag) throw Stopped{};
}

}  // namespace

StoppedBy::StoppedBy(const std::atomic<bool>& stop) : before_(stop_flag) { stop_flag = &stop; }
StoppedBy::~StoppedBy() { stop_flag = before_; }

void for_each_parallel(int count, int threads, const std::function<void(int worker, int index)>& work) {
  threads = std::clamp(threads, 1, std::max(count, 1));
  if (threads == 1) {
    for (int i = 0; i < count; ++i) {
      end_if_stopped();
      work(0, i);
    }
    return;
  }
  std::atomic<int> next{0};
  std::exception_ptr failure;
  std::mutex failure_mutex;
  const std::atomic<bool>* const flag = stop_flag;
  {
    std::vector<std::jthread> pool;
    for (int w = 0; w < threads; ++w) {
      pool.emplace_back([&, w] {
        stop_flag = flag;
        try {
          for (int i = next.fetch_add(1); i < count; i = next.fetch_add(1)) {
            end_if_stopped();
            work(w, i);
          }
        } catch (...) {
          const std::scoped_lock lock(failure_mutex);
          if (!failure) failure = std::current_exception();
          next = count;
        }
      });
    }
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace mendworth
