#pragma once

#include <atomic>
#include <functional>

namespace mendworth {

/// Work that nobody waits for any more ended before its time.
struct Stopped {};

/// While it lives, for_each_parallel throws Stopped once `stop` is set, on this thread and on those that it starts.
class StoppedBy {
 public:
  explicit StoppedBy(const std::atomic<bool>& stop);
  ~StoppedBy();
  StoppedBy(const StoppedBy&) = delete;
  StoppedBy& operator=(const StoppedBy&) = delete;

 private:
  const std::atomic<bool>* before_;
};

/// Calls work(worker, index) for every index in [0, count), on up to `threads` threads; worker numbers the thread from 0.
/// The first exception thrown is rethrown here after all threads have ended.
void for_each_parallel(int count, int threads, const std::function<void(int worker, int index)>& work);

}  // namespace mendworth
