#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"

/// What the numbers of cases, shop files, rates, histories and quotations may be. The ends are far beyond any bench:
/// they catch slips of the unit (percent for a fraction, seconds for minutes), and within them arithmetic neither
/// overflows nor loses what it is asked for.
namespace mendworth {

struct Limits {
  double low = 0;
  double high = 0;
  const char* hint = "";  ///< what to do about a number that is out of range
  double least = 0;       ///< a number other than 0 is at least of this size
  double widest = 0;      ///< times that the high end of a range may be its low end; 0: any

  [[nodiscard]] bool allows(double value) const noexcept {
    return value >= low && value <= high && (value == 0 || std::abs(value) >= least);
  }
  [[nodiscard]] bool allows_range(double low_end, double high_end) const noexcept {
    return widest == 0 || high_end <= widest * low_end;
  }
  /// What is allowed, said about a value that is not: "0 to 1000", "0 or at least 0.001".
  [[nodiscard]] std::string allowed_instead_of(double value) const;
};

namespace limits {

inline constexpr Limits money{.low = 0, .high = 1e9, .least = 1e-4};
inline constexpr Limits positive_money{.low = 1e-4, .high = 1e9};
inline constexpr Limits money_or_fee{.low = -1e9, .high = 1e9, .least = 1e-4};
/// Ages and times; from a working day on.
inline constexpr Limits years{.low = 0.001, .high = 1000, .widest = 1e4};
inline constexpr Limits years_of_need{.low = 0.001, .high = 100};
/// Mean lives of devices: what may be bought again and again. Weeks at least, and beyond 1000 as good as for ever.
inline constexpr Limits device_life{.low = 0.02, .high = 1e6};
inline constexpr Limits days{.low = 0, .high = 36'525, .least = 1e-3};
inline constexpr Limits minutes{.low = 0, .high = 1e5, .least = 1e-3};
inline constexpr Limits chance{0, 1, "a chance is written as a fraction: 85 % is 0.85", 1e-6};
inline constexpr Limits share_of_money{0, 1, "written as a fraction: 20 % is 0.2", 1e-6};
inline constexpr Limits share_of_use{
    0.0001, 1, "a share of the busiest position's use, as a fraction: 60 % is 0.6", 0, 1e4};
inline constexpr Limits use_per_day{
    0.001, 1e7, "what is never operated never wears: state what a usual day brings", 0, 1e4};
inline constexpr Limits hours_per_day{0.001, 24,
                                      "what is never on never wears: state what a usual day brings", 0, 1e4};
inline constexpr Limits life{.low = 1e-3, .high = 1e12, .widest = 1e4};
inline constexpr Limits fraction_failed{0.001, 0.999, "written as a fraction: 10 % is 0.1"};
inline constexpr Limits life_spread{.low = 1, .high = 100};
inline constexpr Limits shape_spread{.low = 1, .high = 10};
inline constexpr Limits shape{0.1, 20, "Weibull shapes of wear are between 1 and 6"};
inline constexpr Limits exchange_rate{.low = 1e-6, .high = 1e6};
inline constexpr Limits pieces_per_year{.low = 0, .high = 1e4, .least = 1e-6};
inline constexpr Limits jobs_per_month{.low = 1e-3, .high = 1e5};
inline constexpr Limits cover{0.01, 0.9999, "a chance is written as a fraction: 95 % is 0.95"};
inline constexpr Limits learning_rate{
    0.5, 1, "the share of the time that is left when the count doubles: 0.9 is usual, 1 is none"};
inline constexpr Limits discount_rate{-0.2, 0.5, "real, per year, as a fraction: 3 % is 0.03", 1e-6};
inline constexpr Limits size_mm{0.001, 1e4, "in millimetres"};
inline constexpr Limits size_error_mm{0, 100, "in millimetres: 20 micrometres is 0.02", 1e-6};
inline constexpr Limits factor{.low = 0.01, .high = 100};

}  // namespace limits

inline constexpr int most_positions_in_group = 1000;
inline constexpr int most_joints = 1000;
inline constexpr std::size_t most_dimensions = 8;  ///< of one part
inline constexpr int most_pieces = 1'000'000;
inline constexpr int most_devices = 100'000;
inline constexpr std::size_t most_list_items = 100;  ///< positions, parts, suppliers, price breaks ... each

/// Numbers that are each within their limits but not together.
struct Clash {
  std::string key;  ///< the first of those that it is about
  std::string message;
  std::string remedy;
};

/// Every clash of a case whose numbers are within their limits and whose indices exist.
[[nodiscard]] std::vector<Clash> clashes_of(const Case& c);

}  // namespace mendworth
