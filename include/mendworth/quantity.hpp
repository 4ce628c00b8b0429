#pragma once

#include <cmath>
#include <stdexcept>
#include <vector>

namespace mendworth {

/// How a number that is not known exactly is spread between its ends.
enum class Spread {
  fixed,       ///< one value
  uniform,     ///< two points: every value between them equally likely
  beta,        ///< three points: the beta distribution of project planning, shape 4 (PERT)
  triangular,  ///< three points: triangular
};

/// A number as a case states it: one value, or a range {low, high} or {low, likely, high}.
/// The unit is that of the field which holds it. All values are finite.
class Quantity {
 public:
  constexpr Quantity() = default;

  /// One value. Throws std::invalid_argument if it is not finite.
  [[nodiscard]] static Quantity exactly(double value) {
    if (!std::isfinite(value)) throw std::invalid_argument("a quantity must be a finite number");
    Quantity result;
    result.low_ = result.likely_ = result.high_ = value;
    return result;
  }
  /// Uniform between the ends; equal ends give one value.
  /// Throws std::invalid_argument unless low <= high and both are finite.
  [[nodiscard]] static Quantity between(double low, double high);
  /// Three points; equal ends give one value. Throws std::invalid_argument unless low <= likely <= high, all
  /// finite, and `spread` is beta or triangular.
  [[nodiscard]] static Quantity three_point(double low, double likely, double high,
                                            Spread spread = Spread::beta);

  /// The least value it can have.
  [[nodiscard]] constexpr double low() const noexcept { return low_; }
  /// The mode; the midpoint if uniform.
  [[nodiscard]] constexpr double likely() const noexcept { return likely_; }
  /// The greatest value it can have.
  [[nodiscard]] constexpr double high() const noexcept { return high_; }
  /// How it is spread between them.
  [[nodiscard]] constexpr Spread spread() const noexcept { return spread_; }
  /// Whether it is one value.
  [[nodiscard]] constexpr bool is_fixed() const noexcept { return spread_ == Spread::fixed; }

  /// The mean: (low + 4 likely + high)/6 for beta, (low + likely + high)/3 for triangular.
  [[nodiscard]] double base() const noexcept { return is_fixed() ? low_ : mean_of_range(); }
  /// Of the outcomes: (base - low)(high - base)/7 for beta.
  [[nodiscard]] double variance() const noexcept;
  /// The value below which a share u of the outcomes lies, 0 <= u <= 1, else std::domain_error. Exact,
  /// slow for beta (microseconds).
  [[nodiscard]] double quantile(double u) const;
  /// The same spread with every point multiplied by `factor`. Throws std::invalid_argument unless it is >= 0
  /// and the points stay finite.
  [[nodiscard]] Quantity scaled(double factor) const;

  friend bool operator==(const Quantity&, const Quantity&) = default;  ///< the same points, spread alike

 private:
  // Apart from base(), so that the usual single value is read without a call.
  [[nodiscard]] double mean_of_range() const noexcept;

  double low_ = 0.0;
  double likely_ = 0.0;
  double high_ = 0.0;
  Spread spread_ = Spread::fixed;
};

/// The sum of numbers that know nothing of each other: its mean is the sum of the means, its variance that of the
/// variances, and its ends lean as the sums of the ends do. A beta, of three points; with one range among single
/// values, that range moved. The ends never lie beyond the sums of the ends, so that the spread of one or two ranges
/// that are not beta comes out up to a third too small.
[[nodiscard]] Quantity independent_sum(const std::vector<Quantity>& terms);

}  // namespace mendworth
