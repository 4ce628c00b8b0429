#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <optional>
#include <ostream>
#include <string>

namespace mendworth::cli {

/// How far it is, on a line of a terminal that is written over and cleared in the end.
class ProgressLine {
 public:
  ProgressLine(bool shown, std::ostream& err) : shown_(shown), err_(err) {}
  ~ProgressLine() { clear(); }
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  void clear() {
    if (told_) err_ << "\r\x1b[K" << std::flush;
    told_ = false;
  }
  /// May be called as often as one likes: what it shows is asked for four times a second. `share` gives what is done,
  /// 0..1, absent where nobody knows; `words` is asked with the seconds since the beginning.
  template <class Share, class Words>
  void tell(Share share, Words words) {
    constexpr std::chrono::milliseconds often(250);
    const auto now = Clock::now();
    if (!shown_ || now - last_ < often) return;
    last_ = now;
    told_ = true;
    err_ << "\r\x1b[K" << bar(share()) << words(std::chrono::duration<double>(now - begin_).count())
         << std::flush;
  }

 private:
  using Clock = std::chrono::steady_clock;

  [[nodiscard]] static std::string bar(std::optional<double> share) {
    constexpr std::size_t width = 20;
    if (!share) return "";
    const double part = std::clamp(*share, 0.0, 1.0);
    const auto done = static_cast<std::size_t>(part * width);
    return fmt::format("[{}{}] {:.0f} %, ", std::string(done, '#'), std::string(width - done, '.'),
                       100 * part);
  }

  bool shown_, told_ = false;
  std::ostream& err_;
  Clock::time_point begin_ = Clock::now(), last_ = begin_;
};

}  // namespace mendworth::cli
