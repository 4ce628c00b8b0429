#pragma once

#include <span>
#include <vector>

/// How many pieces are wanted, as a chance for each number, and the decisions that follow from it.
/// Sources of the formulas: Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd ed., chapter 4 (newsvendor,
/// loss function); the recursion of Erlang's loss formula stands in any text on queues.
namespace mendworth {

/// A distribution over 0, 1, 2, ... Chances too small to matter (below 1e-30 at its ends) are left away.
/// Every function that makes one throws std::domain_error for arguments out of range.
class Demand {
 public:
  /// Nothing is wanted.
  Demand() : Demand(std::vector<double>{1.0}) {}
  /// chances[k] >= 0 that k are wanted; scaled to sum to 1. At least one must be above 0.
  explicit Demand(std::vector<double> chances);

  /// Failures or jobs that come independently at a constant rate; mean 0 .. 1e6.
  [[nodiscard]] static Demand poisson(double mean);
  /// How many of `count` >= 0 equal pieces fail, each with `chance` 0..1.
  [[nodiscard]] static Demand binomial(int count, double chance);
  /// How many of several pieces fail, each with a chance of its own, independently: by exact convolution.
  [[nodiscard]] static Demand of_chances(std::span<const double> chances);
  /// A Poisson stream whose rate is gamma distributed; mean > 0, variance > mean.
  [[nodiscard]] static Demand negative_binomial(double mean, double variance);
  /// The sum of two independent demands.
  [[nodiscard]] static Demand sum(const Demand& a, const Demand& b);
  /// One of several, each with the same chance: what is not known is averaged over. At least one.
  [[nodiscard]] static Demand mixture(std::span<const Demand> of);
  /// `pieces` >= 1 for each one wanted, and `more` >= 0 for certain.
  [[nodiscard]] Demand times(int pieces) const;
  [[nodiscard]] Demand shifted(int more) const;
  /// What is wanted beyond `at_hand` >= 0 pieces.
  [[nodiscard]] Demand beyond(int at_hand) const;

  [[nodiscard]] double mean() const noexcept { return shortage_.front(); }
  [[nodiscard]] double variance() const noexcept;
  [[nodiscard]] double chance(int k) const noexcept;   ///< P(D = k)
  [[nodiscard]] double at_most(int k) const noexcept;  ///< P(D <= k)
  [[nodiscard]] double above(int k) const noexcept;    ///< P(D > k), exact in the tail
  /// E[(D - k)+], how many are missing on average with k at hand; k >= 0.
  [[nodiscard]] double expected_shortage(int k) const noexcept;
  /// E[(k - D)+], how many are left over on average.
  [[nodiscard]] double expected_left(int k) const noexcept;
  /// The smallest k with P(D <= k) >= p, 0 < p < 1. Rounding is allowed for: p is met within 1e-12.
  [[nodiscard]] int quantile(double p) const;
  [[nodiscard]] int largest() const noexcept { return static_cast<int>(chance_.size()) - 1; }

 private:
  std::vector<double> chance_;
  std::vector<double> above_;     // P(D > k)
  std::vector<double> shortage_;  // E[(D - k)+]
};

/// How many to have when each missing piece costs `under` and each one left over `over` (both >= 0, one above 0): the
/// smallest k with P(D <= k) at least the critical ratio under / (under + over).
struct Newsvendor {
  double critical_ratio = 0;
  int quantity = 0;
  double cost = 0;  ///< expected: under x missing + over x left over
};
[[nodiscard]] Newsvendor newsvendor(const Demand& demand, double under, double over);
[[nodiscard]] double newsvendor_cost(const Demand& demand, int quantity, double under, double over);

/// How long pieces lie until they are used, as shares of the period: given their number n, the k-th arrival of a Poisson
/// stream, mixed or not, comes after k / (n + 1) of it on average (uniform order statistics; Ross, Introduction to
/// Probability Models, 11th ed., section 5.3.5).
class LyingTimes {
 public:
  explicit LyingTimes(const Demand& demand);
  /// Of the first `pieces`, summed, of those that the period uses; 0 for none or fewer.
  [[nodiscard]] double up_to(int pieces) const noexcept;

 private:
  std::vector<double> all_used_;  // [k]: sum over n <= k of P(n) n / 2
  std::vector<double> beyond_;    // [k]: sum over n > k of P(n) / (n + 1)
};

}  // namespace mendworth
