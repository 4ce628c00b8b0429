#include "numeric/demand.hpp"

#include <algorithm>
#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/negative_binomial.hpp>
#include <boost/math/distributions/poisson.hpp>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace mendworth {
namespace {

using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

constexpr double negligible = 1e-30;
constexpr double most_mean = 1e6;
constexpr double rounding = 1e-12;

void require_demand(bool holds, const char* what) {
  if (!holds) throw std::domain_error(what);
}

/// The chances of 0, 1, ... from a law that rises to about `mode` and falls from there.
template <class Law>
std::vector<double> table_of(const Law& law, double mode) {
  std::vector<double> chances;
  for (int k = 0;; ++k) {
    chances.push_back(boost::math::pdf(law, static_cast<double>(k)));
    if (k > mode && chances.back() < negligible) return chances;
  }
}

void add_product(const std::vector<double>& a, const std::vector<double>& b, std::vector<double>& out) {
  out.assign(a.size() + b.size() - 1, 0.0);
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t j = 0; j < b.size(); ++j) out[i + j] += a[i] * b[j];
  }
}

}  // namespace

Demand::Demand(std::vector<double> chances) : chance_(std::move(chances)) {
  double total = 0;
  for (const double chance : chance_) {
    require_demand(chance >= 0 && std::isfinite(chance), "a chance must be at least 0");
    total += chance;
  }
  require_demand(total > 0 && std::isfinite(total), "a demand needs a chance above 0");
  while (chance_.back() < negligible * total) chance_.pop_back();
  for (double& chance : chance_) chance /= total;
  // Summed from the far end, so that small tails keep their digits.
  above_.assign(chance_.size(), 0.0);
  shortage_.assign(chance_.size(), 0.0);
  for (std::size_t k = chance_.size() - 1; k-- > 0;) {
    above_[k] = above_[k + 1] + chance_[k + 1];
    shortage_[k] = shortage_[k + 1] + above_[k];
  }
}

Demand Demand::poisson(double mean) {
  require_demand(mean >= 0 && mean <= most_mean, "a mean demand must be 0 to 1e6");
  if (mean == 0) return {};
  return Demand(table_of(boost::math::poisson_distribution<double, Policy>(mean), mean));
}

Demand Demand::binomial(int count, double chance) {
  require_demand(count >= 0, "a count must be at least 0");
  require_demand(chance >= 0 && chance <= 1, "a chance must be 0 to 1");
  if (count == 0 || chance == 0) return {};
  std::vector<double> chances(static_cast<std::size_t>(count) + 1, 0.0);
  if (chance == 1) {
    chances.back() = 1;
  } else {
    const boost::math::binomial_distribution<double, Policy> law(count, chance);
    for (int k = 0; k <= count; ++k) chances[static_cast<std::size_t>(k)] = boost::math::pdf(law, k);
  }
  return Demand(std::move(chances));
}

Demand Demand::of_chances(std::span<const double> chances) {
  std::vector<double> table{1.0};
  for (const double chance : chances) {
    require_demand(chance >= 0 && chance <= 1, "a chance must be 0 to 1");
    table.push_back(0.0);
    for (std::size_t k = table.size() - 1; k > 0; --k)
      table[k] = table[k] * (1 - chance) + table[k - 1] * chance;
    table[0] *= 1 - chance;
  }
  return Demand(std::move(table));
}

Demand Demand::negative_binomial(double mean, double variance) {
  require_demand(mean > 0 && mean <= most_mean, "a mean demand must be above 0, at most 1e6");
  require_demand(variance > mean && std::isfinite(variance), "the variance must be above the mean");
  const double successes = mean * mean / (variance - mean);
  return Demand(table_of(
      boost::math::negative_binomial_distribution<double, Policy>(successes, mean / variance), mean));
}

Demand Demand::sum(const Demand& a, const Demand& b) {
  std::vector<double> table;
  add_product(a.chance_, b.chance_, table);
  return Demand(std::move(table));
}

Demand Demand::mixture(std::span<const Demand> of) {
  require_demand(!of.empty(), "a mixture needs at least one demand");
  std::vector<double> table;
  for (const Demand& demand : of) {
    if (table.size() < demand.chance_.size()) table.resize(demand.chance_.size(), 0.0);
    for (std::size_t k = 0; k < demand.chance_.size(); ++k) table[k] += demand.chance_[k];
  }
  return Demand(std::move(table));
}

Demand Demand::times(int pieces) const {
  require_demand(pieces >= 1, "a piece count must be at least 1");
  const auto step = static_cast<std::size_t>(pieces);
  std::vector<double> table((chance_.size() - 1) * step + 1, 0.0);
  for (std::size_t k = 0; k < chance_.size(); ++k) table[k * step] = chance_[k];
  return Demand(std::move(table));
}

Demand Demand::shifted(int more) const {
  require_demand(more >= 0, "a piece count must be at least 0");
  std::vector<double> table(static_cast<std::size_t>(more), 0.0);
  table.insert(table.end(), chance_.begin(), chance_.end());
  return Demand(std::move(table));
}

Demand Demand::beyond(int at_hand) const {
  require_demand(at_hand >= 0, "a piece count must be at least 0");
  std::vector<double> table{at_most(at_hand)};
  for (int k = at_hand + 1; k <= largest(); ++k) table.push_back(chance(k));
  return Demand(std::move(table));
}

double Demand::variance() const noexcept {
  const double centre = mean();
  double total = 0;
  for (std::size_t k = 0; k < chance_.size(); ++k)
    total += chance_[k] * (static_cast<double>(k) - centre) * (static_cast<double>(k) - centre);
  return total;
}

double Demand::chance(int k) const noexcept {
  return k < 0 || k > largest() ? 0.0 : chance_[static_cast<std::size_t>(k)];
}

double Demand::above(int k) const noexcept {
  if (k < 0) return 1;
  return k > largest() ? 0.0 : above_[static_cast<std::size_t>(k)];
}

double Demand::at_most(int k) const noexcept { return std::max(0.0, 1.0 - above(k)); }

double Demand::expected_shortage(int k) const noexcept {
  if (k < 0) return mean() - k;
  return k > largest() ? 0.0 : shortage_[static_cast<std::size_t>(k)];
}

double Demand::expected_left(int k) const noexcept {
  // (k - D)+ = k - D + (D - k)+
  return std::max(0.0, k - mean() + expected_shortage(k));
}

int Demand::quantile(double p) const {
  require_demand(p > 0 && p < 1, "a chance must be strictly between 0 and 1");
  const double allowed = 1 - p + rounding;
  const auto found =
      std::partition_point(above_.begin(), above_.end(), [&](double above) { return above > allowed; });
  return static_cast<int>(std::min(found - above_.begin(), std::ptrdiff_t{largest()}));
}

LyingTimes::LyingTimes(const Demand& demand)
    : all_used_(static_cast<std::size_t>(demand.largest()) + 1, 0.0), beyond_(all_used_) {
  for (std::size_t k = 1; k < all_used_.size(); ++k)
    all_used_[k] = all_used_[k - 1] + demand.chance(static_cast<int>(k)) * static_cast<double>(k) / 2;
  for (std::size_t k = beyond_.size() - 1; k-- > 0;)
    beyond_[k] = beyond_[k + 1] + demand.chance(static_cast<int>(k) + 1) / (static_cast<double>(k) + 2);
}

double LyingTimes::up_to(int pieces) const noexcept {
  if (pieces <= 0) return 0;
  const auto k = std::min(static_cast<std::size_t>(pieces), all_used_.size() - 1);
  const auto last = static_cast<double>(k);
  return all_used_[k] + beyond_[k] * last * (last + 1) / 2;
}

double newsvendor_cost(const Demand& demand, int quantity, double under, double over) {
  require_demand(quantity >= 0, "a quantity must be at least 0");
  require_demand(under >= 0 && over >= 0, "costs must be at least 0");
  return under * demand.expected_shortage(quantity) + over * demand.expected_left(quantity);
}

Newsvendor newsvendor(const Demand& demand, double under, double over) {
  require_demand(under >= 0 && over >= 0 && under + over > 0, "costs must be at least 0, one of them above");
  Newsvendor best;
  best.critical_ratio = under / (under + over);
  if (over == 0) {
    best.quantity = demand.largest();
  } else if (under > 0) {
    best.quantity = demand.quantile(best.critical_ratio);
  }
  best.cost = newsvendor_cost(demand, best.quantity, under, over);
  return best;
}

}  // namespace mendworth
