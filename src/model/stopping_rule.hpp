#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <vector>

namespace mendworth {

inline constexpr int no_limit = std::numeric_limits<int>::max();

/// When a later failure is repaired again, and when the device is given up: by the part that failed, whether pieces for
/// it are at hand, and how often the device has been repaired again already. Each such class has one span of time from
/// now in which repairing again costs less to go on with.
struct StoppingRule {
  struct Span {
    double from = 0, to = std::numeric_limits<double>::infinity();  ///< years from now; from == to: never
    [[nodiscard]] bool holds(double t) const noexcept { return t >= from && t < to; }
    friend bool operator==(const Span&, const Span&) = default;
  };
  static constexpr int repairs_told_apart = 3;  ///< none, one, more

  [[nodiscard]] static std::size_t class_of(int part, bool at_hand, int repairs_before) noexcept {
    return static_cast<std::size_t>((part * 2 + (at_hand ? 1 : 0)) * repairs_told_apart +
                                    std::min(repairs_before, repairs_told_apart - 1));
  }
  [[nodiscard]] static std::size_t classes(std::size_t parts) noexcept {
    return parts * 2 * static_cast<std::size_t>(repairs_told_apart);
  }

  int limit = no_limit;       ///< of later visits, whatever the spans say: for comparison
  std::vector<Span> spans{};  ///< by class; empty: always

  /// The rule with which pieces are at hand at every failure.
  [[nodiscard]] StoppingRule with_pieces_at_hand() const {
    StoppingRule rule = *this;
    constexpr auto told_apart = static_cast<std::size_t>(repairs_told_apart);
    for (std::size_t k = 0; k < rule.spans.size(); ++k) {
      const std::size_t of_part = k - k % (2 * told_apart);
      rule.spans[k] = spans[of_part + told_apart + k % told_apart];
    }
    return rule;
  }
  /// Whether both decide every failure alike.
  [[nodiscard]] bool is_same_as(const StoppingRule& other) const {
    const auto always = [](const StoppingRule& rule) {
      return std::all_of(rule.spans.begin(), rule.spans.end(), [](const Span& s) { return s == Span{}; });
    };
    return limit == other.limit && (spans == other.spans || (always(*this) && always(other)));
  }
  [[nodiscard]] bool again(std::size_t its_class, int repairs_before, double t) const {
    return repairs_before < limit && (spans.empty() || spans[its_class].holds(t));
  }
};

}  // namespace mendworth
