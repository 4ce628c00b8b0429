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

using boost::multiprecision::cpp_int;
using boost::multiprecision::cpp_rational;

constexpr std::int64_t largest_rounded = 1'000'000'000'000'000;
constexpr int decimals_of_computed = 12;  // after the first digit

cpp_rational tenth_powers(int exponent) {
  const cpp_int power = boost::multiprecision::pow(cpp_int(10), static_cast<unsigned>(std::abs(exponent)));
  return exponent < 0 ? cpp_rational(1, power) : cpp_rational(power);
}

/// The largest whole number not above.
cpp_int floor_of(const cpp_rational& value) {
  const cpp_int top = numerator(value), bottom = denominator(value);  // bottom > 0
  const cpp_int quotient = top / bottom;                              // towards zero
  return top < 0 && quotient * bottom != top ? cpp_int(quotient - 1) : quotient;
}

std::int64_t in_range(const cpp_int& value) {
  if (abs(value) > largest_rounded) throw std::domain_error("a sum is beyond 1e15 minor units");
  return static_cast<std::int64_t>(value);
}

}  // namespace

struct Exact::Value {
  cpp_rational number;
};

Exact::Exact(Value value) : value_(std::make_shared<const Value>(std::move(value))) {}

Exact::Exact() : Exact(Value{0}) {}

Exact Exact::whole(std::int64_t value) { return Exact(Value{cpp_rational(value)}); }

Exact Exact::power_of_ten(int exponent) { return Exact(Value{tenth_powers(exponent)}); }

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
  return Exact(Value{cpp_rational(cpp_int(digits)) * tenth_powers(exponent)});
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
  return Exact(Exact::Value{a.value_->number + b.value_->number});
}

Exact operator-(const Exact& a, const Exact& b) {
  return Exact(Exact::Value{a.value_->number - b.value_->number});
}

Exact operator*(const Exact& a, const Exact& b) {
  return Exact(Exact::Value{a.value_->number * b.value_->number});
}

Exact operator/(const Exact& a, const Exact& b) {
  if (b.value_->number == 0) throw std::domain_error("a sum is divided by zero");
  return Exact(Exact::Value{a.value_->number / b.value_->number});
}

bool operator==(const Exact& a, const Exact& b) { return a.value_->number == b.value_->number; }

std::strong_ordering operator<=>(const Exact& a, const Exact& b) {
  if (a.value_->number < b.value_->number) return std::strong_ordering::less;
  return a.value_->number == b.value_->number ? std::strong_ordering::equal : std::strong_ordering::greater;
}

bool Exact::is_whole() const { return denominator(value_->number) == 1; }

std::int64_t Exact::rounded() const {
  const cpp_rational half(1, 2);
  const cpp_rational& number = value_->number;
  if (number < 0) return -in_range(floor_of(half - number));
  return in_range(floor_of(number + half));
}

std::int64_t Exact::rounded_up() const { return -in_range(floor_of(-value_->number)); }

}  // namespace mendworth
