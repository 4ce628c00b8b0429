#pragma once

#include <string>

/// Numbers as a reader writes them, for every place that shows one: thousands are not parted, since half the readers take
/// a comma for the decimal mark and the other half a point; no exponent within reason, never "-0".
namespace mendworth {

/// An input: four significant digits without trailing zeros, whole numbers in full: "0.0325", "64.9", "100000".
/// Throws std::domain_error if it is not finite.
[[nodiscard]] std::string number_text(double value);

/// So many significant digits (1 to 15), without trailing zeros: "1520000", "18.2". Throws std::domain_error if it
/// is not finite.
[[nodiscard]] std::string significant_text(double value, int digits);

/// The text of a number without idle zeros after the point, and without the point where all are idle.
[[nodiscard]] std::string without_trailing_zeros(std::string text);

}  // namespace mendworth
