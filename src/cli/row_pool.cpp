#include "cli/row_pool.hpp"

#include <algorithm>
#include <utility>

namespace mendworth::cli {

namespace {

constexpr std::size_t lines_a_thread = 16;
/// What a pipe takes as a whole: whoever reads it sees whole lines even if this process is killed.
constexpr std::size_t most_together = 4096;

}  // namespace

RowPool::RowPool(int threads, Work work, Take take)
    : work_(std::move(work)),
      take_(std::move(take)),
      most_(lines_a_thread * static_cast<std::size_t>(std::max(1, threads))) {
  for (int i = 0; i < std::max(1, threads); ++i) threads_.emplace_back([this] { work_on(); });
  threads_.emplace_back([this] { hand_on(); });
}

RowPool::~RowPool() {
  const std::scoped_lock lock(mutex_);
  stopped_ = true;
  changed_.notify_all();
}

bool RowPool::add(std::string line) {
  std::unique_lock lock(mutex_);
  changed_.wait(lock, [this] { return stopped_ || jobs_.size() < most_; });
  if (stopped_) return false;
  jobs_.push_back({std::move(line), std::nullopt});
  changed_.notify_all();
  return true;
}

void RowPool::finish() {
  std::unique_lock lock(mutex_);
  closed_ = true;
  changed_.notify_all();
  changed_.wait(lock, [this] { return stopped_ || (jobs_.empty() && !handing_); });
  if (failure_) std::rethrow_exception(failure_);
}

void RowPool::work_on() {
  std::unique_lock lock(mutex_);
  for (;;) {
    changed_.wait(lock, [this] { return stopped_ || closed_ || begun_ < jobs_.size(); });
    if (stopped_ || begun_ >= jobs_.size()) return;
    Job& job = jobs_[begun_++];  // stays in its place while others are added behind and taken in front
    lock.unlock();
    std::exception_ptr failure;
    std::string result;
    try {
      result = work_(job.line);
    } catch (...) {
      failure = std::current_exception();
    }
    lock.lock();
    job.result = std::move(result);
    if (failure) {
      failure_ = failure;
      stopped_ = true;
    }
    changed_.notify_all();
  }
}

void RowPool::hand_on() {
  std::unique_lock lock(mutex_);
  for (;;) {
    changed_.wait(lock, [this] {
      return stopped_ || (closed_ && jobs_.empty()) || (!jobs_.empty() && jobs_.front().result);
    });
    if (stopped_ || jobs_.empty()) return;
    std::string results;
    while (!jobs_.empty() && jobs_.front().result &&
           (results.empty() || results.size() + jobs_.front().result->size() <= most_together)) {
      results += *jobs_.front().result;
      jobs_.pop_front();
      --begun_;
    }
    handing_ = true;
    changed_.notify_all();
    lock.unlock();
    bool wanted = false;
    std::exception_ptr failure;
    try {
      wanted = take_(results);
    } catch (...) {
      failure = std::current_exception();
    }
    lock.lock();
    handing_ = false;
    if (failure) failure_ = failure;
    if (!wanted) stopped_ = true;
    changed_.notify_all();
  }
}

}  // namespace mendworth::cli
