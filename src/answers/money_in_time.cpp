#include "answers/money_in_time.hpp"

#include <algorithm>
#include <cmath>

#include "answers/settings.hpp"

namespace mendworth {
namespace {

constexpr int bins = 240;
constexpr int timeline_futures = 1024;
constexpr double least_years = 6.0;
/// What is discounted by more is nought, and its inverse must not be infinite.
constexpr double largest_exponent = 700.0;

/// Sums up to each bin's end of a chain's purchases, begun in bin b with weight given_up[b].
std::vector<double> purchases_after(const std::vector<double>& begun, const std::vector<double>& chain) {
  std::vector<double> sums(begun.size(), 0.0);
  for (std::size_t b = 0; b < begun.size(); ++b) {
    if (begun[b] == 0.0) continue;
    for (std::size_t i = b; i < sums.size(); ++i) sums[i] += begun[b] * chain[i - b];
  }
  return sums;
}

void gather(std::vector<double>& values) {
  for (std::size_t i = 1; i < values.size(); ++i) values[i] += values[i - 1];
}

}  // namespace

double MoneyInTime::money_within(std::size_t option, double years) const {
  const auto& sums = money[option];
  const auto bin = static_cast<std::size_t>(std::max(0.0, std::ceil(years / step - 1e-9) - 1.0));
  return sums[std::min(bin, sums.size() - 1)];
}

MoneyInTime money_in_time(const Contest& contest, const WeighSettings& settings) {
  const Case& c = contest.model.c;
  const Chains& chains = contest.chains;
  const double rate = std::log1p(c.horizon.discount_rate.base());
  double years = std::max(least_years, 2.0 * years_ahead(c));
  if (chains.best() >= 0) years = std::max(years, 2.0 * chains.life(chains.best()).mean());
  if (c.horizon.years) years = c.horizon.years->base();
  MoneyInTime answer;
  answer.step = years / bins;
  const auto runs = run_ensemble(contest.scene(), contest.options,
                                 {.seed = settings.seed,
                                  .futures = at_most(timeline_futures, settings),
                                  .threads = settings.threads,
                                  .timeline_years = years,
                                  .timeline_bins = bins,
                                  .draw_prices = false});
  const auto unit = [&](int item) { return contest.unit[static_cast<std::size_t>(item)]; };
  std::vector<double> discounted, plain;
  UnitCost device;
  double benefit = 0;
  if (chains.best() >= 0) {
    const auto& best = contest.items.devices[static_cast<std::size_t>(chains.best())];
    device = unit(best.device[Phase::later]);
    benefit = unit(best.benefit).total();
    discounted = purchases_by(chains.life(chains.best()), answer.step, bins - 1, rate);
    plain = purchases_by(chains.life(chains.best()), answer.step, bins - 1, 0.0);
  }
  for (std::size_t o = 0; o < contest.options.size(); ++o) {
    std::vector<double> cost = runs.timelines[o].cost, money = runs.timelines[o].money;
    std::vector<double> begun = runs.timelines[o].given_up;
    const Option& option = contest.options[o];
    if (option.kind == OptionKind::replacement) {
      const auto& own = contest.items.devices[static_cast<std::size_t>(option.replacement)];
      cost[0] += unit(own.device[Phase::first]).total();
      money[0] += unit(own.device[Phase::first]).money;
      double before = 1.0;
      for (std::size_t i = 0; i < begun.size(); ++i) {
        const double t = answer.step * static_cast<double>(i + 1);
        const double after = chains.life(option.replacement).survival(t);
        begun[i] = (before - after) * std::exp(-rate * (t - 0.5 * answer.step));
        cost[i] += unit(own.benefit).total() * 0.5 * (before + after) * answer.step * std::exp(-rate * t);
        before = after;
      }
    }
    gather(cost);
    gather(money);
    if (chains.best() >= 0) {
      const auto later = purchases_after(begun, discounted);
      std::vector<double> undiscounted = begun;
      for (std::size_t i = 0; i < begun.size(); ++i)
        undiscounted[i] *=
            std::exp(std::min(rate * answer.step * (static_cast<double>(i) + 0.5), largest_exponent));
      const auto later_plain = purchases_after(undiscounted, plain);
      double share = 0;  // of the futures in which the chain has begun
      double so_far = 0;
      for (std::size_t i = 0; i < cost.size(); ++i) {
        share += undiscounted[i];
        so_far += benefit * share * answer.step * std::exp(-rate * answer.step * static_cast<double>(i + 1));
        cost[i] += later[i] * device.total() + so_far;
        money[i] += later_plain[i] * device.money;
      }
    }
    answer.cost.push_back(std::move(cost));
    answer.money.push_back(std::move(money));
  }
  return answer;
}

}  // namespace mendworth
