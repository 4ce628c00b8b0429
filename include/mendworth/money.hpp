#pragma once

#include <compare>
#include <cstdint>
#include <string>

/// Money as it stands on a bill. Expectations are doubles; what somebody pays is this.
namespace mendworth {

/// A sum in whole minor units of a currency (cents; yen; fils). Adding never rounds.
struct Money {
  std::int64_t minor = 0;  ///< cents, yen, fils ...: either sign

  friend auto operator<=>(const Money&, const Money&) = default;                               ///< by the sum
  friend constexpr Money operator+(Money a, Money b) noexcept { return {a.minor + b.minor}; }  ///< exact
  friend constexpr Money operator-(Money a, Money b) noexcept { return {a.minor - b.minor}; }  ///< exact
  constexpr Money operator-() const noexcept { return {-minor}; }                              ///< exact
  /// Adds exactly.
  constexpr Money& operator+=(Money other) noexcept {
    minor += other.minor;
    return *this;
  }
  /// So many times the sum, exactly.
  friend constexpr Money operator*(std::int64_t count, Money each) noexcept { return {count * each.minor}; }
};

/// What a sum is counted in.
struct Currency {
  std::string code;      ///< ISO 4217
  int minor_digits = 2;  ///< digits after the point, ISO 4217: 0..4
};

/// Units of the currency in whole minor units, rounded half away from zero in decimal: 1.005 is 1.01 although its binary
/// value lies below. Throws std::domain_error if the amount is not finite or beyond 1e15 minor units.
[[nodiscard]] Money rounded(double amount, const Currency& currency);

/// A sum in units of the currency.
[[nodiscard]] double in_units(Money sum, const Currency& currency);

}  // namespace mendworth
