#pragma once

#include <compare>
#include <cstdint>
#include <string>

/// Money as it stands on a bill. Expectations are doubles; what somebody pays is this.
namespace mendworth {

/// A sum in whole minor units of a currency (cents; yen; fils). Adding never rounds.
struct Money {
  std::int64_t minor = 0;

  friend auto operator<=>(const Money&, const Money&) = default;
  friend constexpr Money operator+(Money a, Money b) noexcept { return {a.minor + b.minor}; }
  friend constexpr Money operator-(Money a, Money b) noexcept { return {a.minor - b.minor}; }
  constexpr Money operator-() const noexcept { return {-minor}; }
  constexpr Money& operator+=(Money other) noexcept {
    minor += other.minor;
    return *this;
  }
  friend constexpr Money operator*(std::int64_t count, Money each) noexcept { return {count * each.minor}; }
};

/// What a sum is counted in.
struct Currency {
  std::string code;      ///< ISO 4217
  int minor_digits = 2;  ///< digits after the point, ISO 4217: 0..4
};

}  // namespace mendworth
