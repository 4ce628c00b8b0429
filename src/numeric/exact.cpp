#include "numeric/exact.hpp"

#include <array>
#include <boost/multiprecision/cpp_int.hpp>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

namespace mendworth {

namespace {

// Whole numbers of any size. Without expression templates, whose results may hold on to what is gone.
using Integer =
    boost::multiprecision::number<boost::multiprecision::cpp_int_backend<>, boost::multiprecision::et_off>;

constexpr std::int64_t largest_rounded = 1'000'000'000'000'000;
constexpr int decimals_of_computed = 12;  // after the first digit

Integer tens(int exponent) {
  return boost::multiprecision::pow(Integer(10), static_cast<unsigned>(exponent));
}

std::int64_t in_range(const Integer& value) {
  if (abs(value) > largest_rounded) throw std::domain_error("a sum is beyond 1e15 minor units");
  return static_cast<std::int64_t>(value);
}

}  // namespace

// Not in lowest terms: a bill has few steps, and looking for common divisors would cost more than they save.
struct Exact::Value {
  Integer top;
  Integer bottom = 1;  // > 0

  /// The largest whole number not above.
  [[nodiscard]] Integer floor() const {
    const Integer quotient = top / bottom;  // towards zero
    return top < 0 && quotient * bottom != top ? Integer(quotient - 1) : quotient;
  }
};

Exact::Exact(Value value) : value_(std::make_shared<const Value>(std::move(value))) {}

Exact::Exact() : Exact(Value{}) {}

Exact Exact::whole(std::int64_t value) { return Exact(Value{value}); }

Exact Exact::power_of_ten(int exponent) {
  return Exact(exponent < 0 ? Value{1, tens(-exponent)} : Value{tens(exponent)});
}

Exact Exact::from_scientific(const char* begin, const char* end) {
  // "-1.25e-03": the digits without the point are a whole number.
  const std::string text(begin, end);
  const std::size_t e = text.find('e');
  if (e == std::string::npos) throw std::domain_error("a sum is not a finite number");
  std::string digits = text.substr(0, e);
  int exponent = std::stoi(text.substr(e + 1));
  if (const std::size_t point = digits.find('.'); point != std::string::npos) {
    exponent -= static_cast<int>(digits.size() - point - 1);
    digits.erase(point, 1);
  }
  // A leading zero would make the library read octal digits; the scientific form has one only for 0 itself.
  const Integer number(digits);
  return Exact(exponent < 0 ? Value{number, tens(-exponent)} : Value{number * tens(exponent)});
}

Exact Exact::decimal(double value) {
  if (value == 0) return {};
  std::array<char, 32> text{};
  const auto end =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::scientific);
  return from_scientific(text.data(), end.ptr);
}

Exact Exact::computed(double value) {
  if (value == 0) return {};
  std::array<char, 32> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::scientific,
                                 decimals_of_computed);
  return from_scientific(text.data(), end.ptr);
}

Exact operator+(const Exact& a, const Exact& b) {
  const Exact::Value &x = *a.value_, &y = *b.value_;
  if (x.bottom == y.bottom) return Exact(Exact::Value{x.top + y.top, x.bottom});
  return Exact(Exact::Value{x.top * y.bottom + y.top * x.bottom, x.bottom * y.bottom});
}

Exact operator-(const Exact& a, const Exact& b) {
  return a + Exact(Exact::Value{-b.value_->top, b.value_->bottom});
}

Exact operator*(const Exact& a, const Exact& b) {
  const Exact::Value &x = *a.value_, &y = *b.value_;
  return Exact(Exact::Value{x.top * y.top, x.bottom * y.bottom});
}

Exact operator/(const Exact& a, const Exact& b) {
  const Exact::Value &x = *a.value_, &y = *b.value_;
  if (y.top == 0) throw std::domain_error("a sum is divided by zero");
  const int sign = y.top < 0 ? -1 : 1;
  return Exact(Exact::Value{sign * x.top * y.bottom, sign * x.bottom * y.top});
}

bool operator==(const Exact& a, const Exact& b) { return (a <=> b) == 0; }

std::strong_ordering operator<=>(const Exact& a, const Exact& b) {
  const int order = Integer(a.value_->top * b.value_->bottom).compare(b.value_->top * a.value_->bottom);
  return order <=> 0;
}

bool Exact::is_whole() const { return value_->top % value_->bottom == 0; }

std::int64_t Exact::rounded() const {
  // The floor of |x| + 1/2.
  const Value half_more{2 * abs(value_->top) + value_->bottom, 2 * value_->bottom};
  const std::int64_t size = in_range(half_more.floor());
  return value_->top < 0 ? -size : size;
}

std::int64_t Exact::rounded_up() const { return -in_range(Value{-value_->top, value_->bottom}.floor()); }

}  // namespace mendworth
