#pragma once

#include <compare>

namespace mendworth {

/// A day of the Gregorian calendar.
struct Date {
  int year = 0;
  int month = 0;
  int day = 0;
  friend auto operator<=>(const Date&, const Date&) = default;
};

}  // namespace mendworth
