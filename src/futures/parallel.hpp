#pragma once

#include <functional>

namespace mendworth {

/// Calls work(worker, index) for every index in [0, count), on up to `threads` threads; worker numbers the thread from 0.
/// The first exception thrown is rethrown here after all threads have ended.
void for_each_parallel(int count, int threads, const std::function<void(int worker, int index)>& work);

}  // namespace mendworth
