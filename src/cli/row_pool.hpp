#pragma once

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <exception>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace mendworth::cli {

/// Works on lines with several threads and hands the results on in the order of the lines. No more than a few lines a
/// thread are in it at a time, so that memory is the same for any number of them.
class RowPool {
 public:
  using Work = std::function<std::string(const std::string& line)>;
  /// One result, or several together, at the hands of a single thread. False: nothing more is wanted.
  using Take = std::function<bool(const std::string& results)>;
  RowPool(int threads, Work work, Take take);
  /// Drops what is still waiting.
  ~RowPool();
  RowPool(const RowPool&) = delete;
  RowPool& operator=(const RowPool&) = delete;

  /// Waits for a free place. False: nothing more is wanted, or work has thrown.
  [[nodiscard]] bool add(std::string line);
  /// Waits until all results are handed on. Throws what work has thrown.
  void finish();

 private:
  struct Job {
    std::string line;
    std::optional<std::string> result;
  };
  void work_on();
  void hand_on();

  Work work_;
  Take take_;
  std::size_t most_;
  std::mutex mutex_;  // guards what follows
  std::condition_variable changed_;
  std::deque<Job> jobs_;  // in order; the first `begun_` are being worked on or done
  std::size_t begun_ = 0;
  bool closed_ = false;   // no more lines
  bool stopped_ = false;  // no more work
  bool handing_ = false;  // results are on their way out
  std::exception_ptr failure_;
  std::vector<std::jthread> threads_;
};

}  // namespace mendworth::cli
