#pragma once

#include <compare>

namespace mendworth {

/// A day of the Gregorian calendar.
struct Date {
  int year = 0;                                                 ///< 1..9999
  int month = 0;                                                ///< 1..12
  int day = 0;                                                  ///< 1..31, as the month has
  friend auto operator<=>(const Date&, const Date&) = default;  ///< earlier is less
};

}  // namespace mendworth
