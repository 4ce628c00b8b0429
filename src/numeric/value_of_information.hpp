#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "numeric/variance_shares.hpp"

/// What it is worth to know something before one of several options is chosen, in the unit of their net benefit.
namespace mendworth {

/// Net benefits of options over the same samples, as advantages over the option that is best on average.
class Decision {
 public:
  /// net_benefit[option][sample]: at least one option, all of as many samples, two or more.
  explicit Decision(const std::vector<std::vector<double>>& net_benefit);

  [[nodiscard]] std::size_t samples() const noexcept { return samples_; }
  /// How many options there are beside the best one.
  [[nodiscard]] std::size_t others() const noexcept { return mean_.size(); }
  [[nodiscard]] std::size_t best() const noexcept { return best_; }
  /// Of the others over the best one, in one sample.
  [[nodiscard]] std::span<const double> advantage(std::size_t sample) const noexcept {
    return {advantage_.data() + sample * others(), others()};
  }
  [[nodiscard]] const std::vector<double>& mean() const noexcept { return mean_; }  ///< <= 0
  /// Of two advantages.
  [[nodiscard]] double covariance(std::size_t a, std::size_t b) const noexcept {
    return covariance_[a * others() + b];
  }

 private:
  std::size_t samples_ = 0, best_ = 0;
  std::vector<double> advantage_, mean_, covariance_;
};

/// Expected value of perfect information about everything, luck included: E[max] - max E.
[[nodiscard]] Estimate value_of_knowing_all(const Decision& decision);

/// How the expected advantages move with one input: a polynomial of third degree in it, or the mean of each block where
/// that does not describe them; nothing where no more than noise shows.
class Influence {
 public:
  /// `depends`: on other inputs too, so that what each of them tells must be found together. The decision must outlive
  /// this.
  Influence(const Decision& decision, Blocks input, bool depends);

  /// Whether more than noise shows.
  [[nodiscard]] bool shows() const noexcept { return shows_; }

 private:
  friend class GroupValue;
  /// Takes the means of blocks, from the mean of all, as what the input does: smoothed, or as they are.
  void take(const std::vector<double>& block_mean);

  const Decision* decision_;
  Blocks input_;
  bool depends_, shows_ = false, by_block_ = false;
  std::vector<std::vector<double>>
      basis_;                  ///< of the polynomial, by block: orthonormal, without the constant
  std::vector<double> moves_;  ///< [block][other]: of the expected advantage, from its mean
  std::vector<double> root_;   ///< lower triangular root of the covariance within blocks
};

/// Expected value of perfect information about a group of inputs: E[max over options of E[net benefit | inputs]] - max
/// over options of E[net benefit], the inner expectation by regression on the samples, additive in the inputs. The error
/// and the bias that noise brings, which is taken off, are found by drawing the coefficients from their law. It is
/// never negative, and exactly 0 +/- 0 where no value of the inputs comes near to changing the choice. Source: M.
/// Strong, J. E. Oakley, A. Brennan, "Estimating multiparameter partial expected value of perfect information from a
/// probabilistic sensitivity analysis sample", Medical Decision Making 34 (2014) 311-326; for blocks M. Strong, J. E.
/// Oakley, "An efficient method for computing single-parameter partial expected value of perfect information", ibid. 33
/// (2013) 755-766.
[[nodiscard]] Estimate value_of_knowing(const Decision& decision, const std::vector<const Influence*>& group);

}  // namespace mendworth
