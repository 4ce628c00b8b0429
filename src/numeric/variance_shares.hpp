#pragma once

#include <cstdint>
#include <span>
#include <vector>

/// How much of the variance of a result each of its inputs brings: Sobol' shares, each with its error.
///
/// First order: Var(E[Y | X]) / Var(Y), by how much the variance falls on average once X is known. Total:
/// E[Var(Y | all but X)] / Var(Y), how much of it is left once all but X are known. Both lie in 0..1; estimates may
/// fall out by their error.
namespace mendworth {

/// A number from a sample, and one standard error of it.
struct Estimate {
  double value = 0, error = 0;
};

/// A sample of one input in blocks of neighbouring values.
struct Blocks {
  std::vector<std::uint16_t> of;     ///< sample -> block
  std::vector<double> share, value;  ///< per block: of the samples, > 0; mean of the input
  [[nodiscard]] std::size_t count() const noexcept { return share.size(); }

  /// About equally many samples to a block, equal values together: where the input takes at most `most` values, each is
  /// a block. `x` not empty, finite; 2 <= most <= 64.
  [[nodiscard]] static Blocks cut(std::span<const double> x, int most);
};

/// First-order share of an input from any sample of it with the result, the other inputs left to themselves: the
/// correlation ratio over blocks, less what noise between blocks adds. Inputs may depend on each other. Source: E.
/// Plischke, E. Borgonovo, C. L. Smith, "Global sensitivity measures from given data", European Journal of Operational
/// Research 226 (2013) 536-550.
[[nodiscard]] Estimate first_order_share(const Blocks& input, std::span<const double> result);

/// First-order share of what two evaluations of each sample have in common, all else drawn anew: A. Janon, T. Klein, A.
/// Lagnoux, M. Nodet, C. Prieur, "Asymptotic normality and efficiency of two Sobol index estimators", ESAIM: Probability
/// and Statistics 18 (2014) 342-364, the second of the two.
[[nodiscard]] Estimate shared_share(std::span<const double> result, std::span<const double> all_else_anew);

/// Total share of what alone was drawn anew in the second evaluation of each sample: Jansen's estimator, in A. Saltelli
/// et al., "Variance based sensitivity analysis of model output", Computer Physics Communications 181 (2010) 259-270,
/// table 2 (f).
[[nodiscard]] Estimate total_share(std::span<const double> result, std::span<const double> drawn_anew);

}  // namespace mendworth
