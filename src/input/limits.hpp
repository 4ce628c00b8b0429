#pragma once

#include <string>

/// What a number in a case or a rates file may be. The upper ends are far beyond any bench: they catch slips of
/// the unit (percent for a fraction, seconds for minutes) and keep arithmetic away from overflow.
namespace mendworth::input {

struct Limits {
  double low = 0;
  double high = 0;
  bool above_low = false;   ///< the low end itself is not allowed
  bool below_high = false;  ///< the high end itself is not allowed
  const char* hint = "";    ///< what to do about a number that is out of range

  [[nodiscard]] bool allows(double value) const noexcept {
    return (above_low ? value > low : value >= low) && (below_high ? value < high : value <= high);
  }
  /// "0 to 1000", "more than 0, at most 1000", "more than -0.5, less than 1".
  [[nodiscard]] std::string text() const;
};

namespace limits {

inline constexpr Limits money{0, 1e9};
inline constexpr Limits money_or_fee{-1e9, 1e9};
inline constexpr Limits years{0, 1000, true};
inline constexpr Limits days{0, 36'525};
inline constexpr Limits minutes{0, 1e5};
inline constexpr Limits chance{0, 1, false, false, "a chance is written as a fraction: 85 % is 0.85"};
inline constexpr Limits share_of_money{0, 1, false, false, "written as a fraction: 20 % is 0.2"};
inline constexpr Limits share_of_use{0, 1, true, false,
                                     "a share of the busiest position's use, as a fraction: 60 % is 0.6"};
inline constexpr Limits use_per_day{0, 1e7, true, false,
                                    "what is never operated never wears: state what a usual day brings"};
inline constexpr Limits hours_per_day{0, 24, true, false,
                                      "what is never on never wears: state what a usual day brings"};
inline constexpr Limits life{0, 1e12, true};
inline constexpr Limits fraction_failed{0, 1, true, true, "written as a fraction: 10 % is 0.1"};
inline constexpr Limits spread_factor{1, 100};
inline constexpr Limits shape{0.1, 20, false, false, "Weibull shapes of wear are between 1 and 6"};
inline constexpr Limits exchange_rate{0, 1e6, true};
inline constexpr Limits pieces_per_year{0, 1e4};
inline constexpr Limits learning_rate{
    0.5, 1, false, false,
    "the share of the time that is left when the count doubles: 0.9 is usual, 1 is none"};
inline constexpr Limits discount_rate{-0.5, 1, true, true, "real, per year, as a fraction: 3 % is 0.03"};
inline constexpr Limits size_mm{0, 1e4, true, false, "in millimetres"};
inline constexpr Limits size_error_mm{0, 100, false, false, "in millimetres: 20 micrometres is 0.02"};
inline constexpr Limits factor{0, 100, true};

}  // namespace limits

inline constexpr int most_positions_in_group = 1000;
inline constexpr int most_joints = 1000;
inline constexpr std::size_t most_dimensions = 8;  ///< of one part
inline constexpr int most_pieces = 1'000'000;
inline constexpr std::size_t most_list_items = 100;  ///< positions, parts, suppliers, price breaks ... each

}  // namespace mendworth::input
