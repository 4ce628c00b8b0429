#include "numeric/value_of_information.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "numeric/distributions.hpp"
#include "numeric/random.hpp"

namespace mendworth {
namespace {

constexpr std::size_t highest_degree = 3;
constexpr double surely = 5.0;     // standard deviations of a chi-square
constexpr std::size_t draws = 16;  // of the coefficients
constexpr std::size_t most_values_seen = 4096,
                      few_values_seen = 1024;  // values of a group that are looked at
constexpr int sweeps = 4;                      // of inputs that depend on each other

/// Whether a sum of squares over its variance is more than `freedom` degrees of it would bring.
bool beyond_noise(double chi_square, double freedom) {
  return chi_square > freedom + surely * std::sqrt(2.0 * freedom);
}

/// Lower triangular root of a covariance, which may be singular.
std::vector<double> root_of(const std::vector<double>& covariance, std::size_t n) {
  std::vector<double> root(n * n, 0.0);
  for (std::size_t j = 0; j < n; ++j) {
    double left = covariance[j * n + j];
    for (std::size_t k = 0; k < j; ++k) left -= root[j * n + k] * root[j * n + k];
    if (!(left > 1e-12 * covariance[j * n + j])) continue;
    root[j * n + j] = std::sqrt(left);
    for (std::size_t i = j + 1; i < n; ++i) {
      double sum = covariance[i * n + j];
      for (std::size_t k = 0; k < j; ++k) sum -= root[i * n + k] * root[j * n + k];
      root[i * n + j] = sum / root[j * n + j];
    }
  }
  return root;
}

/// Normal deviates with the covariance of a root, times a factor; numbers of their own for every `what`.
std::vector<double> deviates(const std::vector<double>& root, std::size_t n, double factor,
                             const std::array<std::uint64_t, 3>& what) {
  std::vector<double> z;
  for (std::uint64_t block = 0; z.size() < n; ++block) {
    for (const std::uint64_t word : philox({what[0], what[1], what[2], block}, {0x6b6e6f77, 0}))
      z.push_back(normal_quantile((static_cast<double>(word >> 12U) + 0.5) * 0x1p-52));
  }
  std::vector<double> result(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k <= i; ++k) result[i] += factor * root[i * n + k] * z[k];
  }
  return result;
}

/// Polynomials from the first degree on, orthonormal over the blocks.
std::vector<std::vector<double>> polynomials(const Blocks& blocks) {
  const std::size_t count = blocks.count();
  const auto dot = [&](const std::vector<double>& a, const std::vector<double>& b) {
    double sum = 0;
    for (std::size_t i = 0; i < count; ++i) sum += blocks.share[i] * a[i] * b[i];
    return sum;
  };
  std::vector<std::vector<double>> found{std::vector<double>(count, 1.0)};
  for (std::size_t degree = 1; degree <= std::min(highest_degree, count - 1); ++degree) {
    std::vector<double> next = found.back();
    for (std::size_t i = 0; i < count; ++i) next[i] *= blocks.value[i];
    const double size = dot(next, next);
    for (int twice = 0; twice < 2; ++twice) {
      for (const auto& known : found) {
        const double along = dot(next, known);
        for (std::size_t i = 0; i < count; ++i) next[i] -= along * known[i];
      }
    }
    const double left = dot(next, next);
    if (!(left > 1e-20 * size)) break;
    for (double& value : next) value /= std::sqrt(left);
    found.push_back(std::move(next));
  }
  found.erase(found.begin());
  return found;
}

}  // namespace

Decision::Decision(const std::vector<std::vector<double>>& net_benefit) {
  if (net_benefit.empty() || net_benefit.front().size() < 2)
    throw std::invalid_argument("a decision needs an option and two samples");
  samples_ = net_benefit.front().size();
  const auto count = static_cast<double>(samples_);
  std::vector<double> means;
  for (const auto& option : net_benefit) {
    if (option.size() != samples_) throw std::invalid_argument("options must be over the same samples");
    double sum = 0;
    for (const double value : option) sum += value;
    means.push_back(sum / count);
    if (means.back() > means[best_]) best_ = means.size() - 1;
  }
  for (std::size_t o = 0; o < means.size(); ++o) {
    if (o != best_) mean_.push_back(means[o] - means[best_]);
  }
  advantage_.reserve(samples_ * others());
  covariance_.assign(others() * others(), 0.0);
  for (std::size_t s = 0; s < samples_; ++s) {
    for (std::size_t o = 0; o < means.size(); ++o) {
      if (o != best_) advantage_.push_back(net_benefit[o][s] - net_benefit[best_][s]);
    }
    const auto now = advantage(s);
    for (std::size_t i = 0; i < others(); ++i) {
      for (std::size_t j = 0; j <= i; ++j)
        covariance_[i * others() + j] += (now[i] - mean_[i]) * (now[j] - mean_[j]) / (count - 1.0);
    }
  }
  for (std::size_t i = 0; i < others(); ++i) {
    for (std::size_t j = 0; j < i; ++j) covariance_[j * others() + i] = covariance_[i * others() + j];
  }
}

Estimate value_of_knowing_all(const Decision& decision) {
  double sum = 0, squares = 0;
  for (std::size_t s = 0; s < decision.samples(); ++s) {
    double most = 0;
    for (const double value : decision.advantage(s)) most = std::max(most, value);
    sum += most;
    squares += most * most;
  }
  const auto count = static_cast<double>(decision.samples());
  const double mean = sum / count;
  return {mean, std::sqrt(std::max(0.0, squares / count - mean * mean) / (count - 1.0))};
}

Influence::Influence(const Decision& decision, Blocks input, bool depends)
    : decision_(&decision), input_(std::move(input)), depends_(depends) {
  const std::size_t n = decision.others(), blocks = input_.count();
  if (input_.of.size() != decision.samples())
    throw std::invalid_argument("input and options are not of the same samples");
  moves_.assign(blocks * n, 0.0);
  if (n == 0 || blocks < 2) return;
  const auto samples = static_cast<double>(decision.samples());
  std::vector<double> means(blocks * n, 0.0);
  for (std::size_t s = 0; s < decision.samples(); ++s) {
    const auto now = decision.advantage(s);
    double* sum = means.data() + input_.of[s] * n;
    for (std::size_t o = 0; o < n; ++o) sum[o] += now[o];
  }
  for (std::size_t b = 0; b < blocks; ++b) {
    for (std::size_t o = 0; o < n; ++o) {
      means[b * n + o] /= samples * input_.share[b];
      means[b * n + o] -= decision.mean()[o];
    }
  }
  std::vector<double> within(n * n);
  const double freedom = std::max(1.0, samples - static_cast<double>(blocks));
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      double sum = decision.covariance(i, j) * (samples - 1.0);
      for (std::size_t b = 0; b < blocks; ++b)
        sum -= samples * input_.share[b] * means[b * n + i] * means[b * n + j];
      within[i * n + j] = sum / freedom;
    }
  }
  root_ = root_of(within, n);

  basis_ = polynomials(input_);
  take(means);
  const auto shown = static_cast<double>(basis_.size());
  const auto left_over = static_cast<double>(blocks - 1 - basis_.size());
  bool bent = false, moved = false, moved_by_block = false;
  for (std::size_t o = 0; o < n; ++o) {
    // Of results that hang on this input alone no more than rounding is left.
    const double noise = std::max(
        within[o * n + o], 1e-18 * (decision.covariance(o, o) + decision.mean()[o] * decision.mean()[o]));
    if (!(noise > 0)) continue;
    double fitted = 0, off = 0;
    for (std::size_t b = 0; b < blocks; ++b) {
      const double fit = moves_[b * n + o], away = means[b * n + o] - fit;
      fitted += samples * input_.share[b] * fit * fit / noise;
      off += samples * input_.share[b] * away * away / noise;
    }
    moved = moved || beyond_noise(fitted, shown);
    bent = bent || (left_over > 0 && beyond_noise(off, left_over));
    moved_by_block = moved_by_block || beyond_noise(fitted + off, shown + left_over);
  }
  by_block_ = bent && moved_by_block;
  shows_ = moved || by_block_;
  if (by_block_) take(means);
  if (!shows_) std::fill(moves_.begin(), moves_.end(), 0.0);
}

void Influence::take(const std::vector<double>& block_mean) {
  if (by_block_) {
    moves_ = block_mean;
    return;
  }
  const std::size_t n = decision_->others();
  std::fill(moves_.begin(), moves_.end(), 0.0);
  for (const auto& polynomial : basis_) {
    for (std::size_t o = 0; o < n; ++o) {
      double along = 0;
      for (std::size_t b = 0; b < polynomial.size(); ++b)
        along += input_.share[b] * polynomial[b] * block_mean[b * n + o];
      for (std::size_t b = 0; b < polynomial.size(); ++b) moves_[b * n + o] += along * polynomial[b];
    }
  }
}

/// The expected advantages of options as a group of inputs moves them.
class GroupValue {
 public:
  GroupValue(const Decision& decision, const std::vector<const Influence*>& group) : decision_(decision) {
    for (const Influence* each : group) {
      // In a group what shows nothing would add its noise alone.
      if (group.size() == 1 || each->shows()) members_.push_back(*each);
    }
    untangle();
    const std::size_t n = decision.others();
    std::vector<double> covariance;
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) covariance.push_back(decision.covariance(i, j));
    }
    root_ = root_of(covariance, n);
  }

  [[nodiscard]] Estimate value() const {
    if (!may_change_the_choice()) return {};
    const Sight plain = seen(decision_.mean(), moves(), most_values_seen);
    const double coarse =
        members_.size() == 1 ? plain.value : seen(decision_.mean(), moves(), few_values_seen).value;
    double sum = 0, squares = 0;
    for (std::size_t d = 0; d < draws; ++d) {
      const double value = drawn(d);
      sum += value;
      squares += value * value;
    }
    const auto count = static_cast<double>(draws);
    const double bias = sum / count - coarse;
    const double spread = std::sqrt(std::max(0.0, squares / count - sum * sum / (count * count)));
    return {std::max(0.0, plain.value - bias), std::hypot(spread, bias, plain.error)};
  }

 private:
  using Moves = std::vector<std::vector<double>>;  // per member
  /// What it is worth at a number of values, and by how much their choice makes that uncertain.
  struct Sight {
    double value = 0, error = 0;
  };

  [[nodiscard]] Moves moves() const {
    Moves all;
    for (const Influence& member : members_) all.push_back(member.moves_);
    return all;
  }

  /// What each input of those that depend on each other tells beyond the others: by backfitting (J. H. Friedman, W.
  /// Stuetzle, Journal of the American Statistical Association 76 (1981) 817-823).
  void untangle() {
    std::vector<Influence*> tangled;
    for (Influence& member : members_) {
      if (member.depends_) tangled.push_back(&member);
    }
    if (tangled.size() < 2) return;
    const std::size_t n = decision_.others();
    const auto samples = static_cast<double>(decision_.samples());
    for (int sweep = 0; sweep < sweeps; ++sweep) {
      for (Influence* member : tangled) {
        std::vector<double> means(member->moves_.size(), 0.0);
        for (std::size_t s = 0; s < decision_.samples(); ++s) {
          const auto now = decision_.advantage(s);
          const std::size_t block = member->input_.of[s];
          for (std::size_t o = 0; o < n; ++o) {
            double left = now[o] - decision_.mean()[o];
            for (const Influence* other : tangled) {
              if (other != member) left -= other->moves_[other->input_.of[s] * n + o];
            }
            means[block * n + o] += left / (samples * member->input_.share[block]);
          }
        }
        member->take(means);
      }
    }
  }

  /// Whether some option may come out best at some values: where none comes within four standard errors, it is not.
  [[nodiscard]] bool may_change_the_choice() const {
    const std::size_t n = decision_.others();
    const auto samples = static_cast<double>(decision_.samples());
    for (std::size_t o = 0; o < n; ++o) {
      double reach = decision_.mean()[o], variance = decision_.covariance(o, o) / samples;
      for (const Influence& member : members_) {
        double most = -std::numeric_limits<double>::infinity(), noise = 0;
        for (std::size_t b = 0; b < member.input_.count(); ++b) {
          most = std::max(most, member.moves_[b * n + o]);
          double squares = member.by_block_ ? 1.0 / member.input_.share[b] : 0.0;
          for (const auto& polynomial : member.basis_) squares += polynomial[b] * polynomial[b];
          noise = std::max(noise, squares * decision_.covariance(o, o) / samples);
        }
        reach += most;
        variance += noise;
      }
      if (reach + 4.0 * std::sqrt(variance) > 0) return true;
    }
    return false;
  }

  [[nodiscard]] double drawn(std::size_t number) const {
    const std::size_t n = decision_.others();
    const auto samples = static_cast<double>(decision_.samples());
    std::vector<double> mean = deviates(root_, n, 1.0 / std::sqrt(samples), {number, 0, 0});
    for (std::size_t o = 0; o < n; ++o) mean[o] += decision_.mean()[o];
    Moves all = moves();
    for (std::size_t m = 0; m < members_.size(); ++m) {
      const Influence& member = members_[m];
      const std::size_t terms = member.by_block_ ? member.input_.count() : member.basis_.size();
      for (std::size_t k = 0; k < terms; ++k) {
        const double count = member.by_block_ ? samples * member.input_.share[k] : samples;
        const auto off = deviates(member.root_, n, 1.0 / std::sqrt(count), {number, m + 1, k});
        for (std::size_t b = 0; b < member.input_.count(); ++b) {
          const double times = member.by_block_ ? (b == k ? 1.0 : 0.0) : member.basis_[k][b];
          for (std::size_t o = 0; o < n; ++o) all[m][b * n + o] += times * off[o];
        }
      }
    }
    return seen(mean, all, few_values_seen).value;
  }

  [[nodiscard]] Sight seen(const std::vector<double>& mean, const Moves& all, std::size_t most) const {
    const std::size_t n = decision_.others();
    std::vector<double> at(n), sums(n, 0.0);
    double gain = 0, squares = 0, weights = 0;
    const auto look = [&](double weight) {
      double best = 0;
      for (std::size_t o = 0; o < n; ++o) {
        best = std::max(best, at[o]);
        sums[o] += weight * at[o];
      }
      gain += weight * best;
      squares += weight * best * best;
      weights += weight;
    };
    double count = static_cast<double>(decision_.samples());
    if (members_.size() == 1) {
      const Blocks& blocks = members_.front().input_;
      for (std::size_t b = 0; b < blocks.count(); ++b) {
        for (std::size_t o = 0; o < n; ++o) at[o] = mean[o] + all.front()[b * n + o];
        look(blocks.share[b]);
      }
    } else {
      const std::size_t step = std::max<std::size_t>(1, decision_.samples() / most);
      for (std::size_t s = 0; s < decision_.samples(); s += step) {
        at = mean;
        for (std::size_t m = 0; m < members_.size(); ++m) {
          const double* moved = all[m].data() + members_[m].input_.of[s] * n;
          for (std::size_t o = 0; o < n; ++o) at[o] += moved[o];
        }
        look(1.0);
      }
      count = weights;
    }
    gain /= weights;
    double blind = 0;
    for (const double sum : sums) blind = std::max(blind, sum / weights);
    return {gain - blind, std::sqrt(std::max(0.0, squares / weights - gain * gain) / count)};
  }

  const Decision& decision_;
  std::vector<Influence> members_;
  std::vector<double> root_;
};

Estimate value_of_knowing(const Decision& decision, const std::vector<const Influence*>& group) {
  if (decision.others() == 0 || group.empty()) return {};
  return GroupValue(decision, group).value();
}

}  // namespace mendworth
