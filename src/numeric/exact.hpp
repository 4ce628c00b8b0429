#pragma once

#include <compare>
#include <cstdint>
#include <memory>

namespace mendworth {

/// A fraction of whole numbers of any size. Arithmetic is exact, so what a bill rounds is rounded once and where it is
/// meant to be: 0.07 is 7/100, and half a cent is half a cent.
class Exact {
 public:
  Exact();  ///< 0
  [[nodiscard]] static Exact whole(std::int64_t value);

  /// What somebody wrote: the shortest decimal fraction that reads back as `value`; 0.07 is exactly 7/100.
  /// Throws std::domain_error if it is not finite.
  [[nodiscard]] static Exact decimal(double value);

  /// What arithmetic in binary gave: `value` to 13 significant digits, so that the last bits of a sum or a product
  /// neither make nor break a half. Throws std::domain_error if it is not finite.
  [[nodiscard]] static Exact computed(double value);

  [[nodiscard]] static Exact power_of_ten(int exponent);

  friend Exact operator+(const Exact& a, const Exact& b);
  friend Exact operator-(const Exact& a, const Exact& b);
  friend Exact operator*(const Exact& a, const Exact& b);
  friend Exact operator/(const Exact& a, const Exact& b);  ///< throws std::domain_error if b is 0
  Exact& operator+=(const Exact& other) { return *this = *this + other; }

  friend bool operator==(const Exact& a, const Exact& b);
  friend std::strong_ordering operator<=>(const Exact& a, const Exact& b);

  [[nodiscard]] bool is_whole() const;

  /// To the nearest whole number, halves away from zero. Throws std::domain_error beyond 1e15 either way.
  [[nodiscard]] std::int64_t rounded() const;

  /// The least whole number not below. Throws std::domain_error beyond 1e15 either way.
  [[nodiscard]] std::int64_t rounded_up() const;

 private:
  struct Value;
  explicit Exact(Value value);
  [[nodiscard]] static Exact from_scientific(const char* begin, const char* end);

  std::shared_ptr<const Value> value_;  // never null but in a moved-from object, which is only assigned to
};

}  // namespace mendworth
