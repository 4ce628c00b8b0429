#include "answers/spare_worth.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "numeric/discount.hpp"
#include "numeric/poisson_stock.hpp"

namespace mendworth {
namespace {

constexpr int most_worth_futures = 4096;
constexpr std::size_t most_simulated = 48;  ///< spares; beyond them only other devices and jobs can want one
constexpr int most_spares = 1024;

// Other devices and jobs alone: a Poisson stream takes one after the other; what is left is sold.
WorthCurve worth_elsewhere(const Part& part, const Case& c, double small_order, double resale) {
  const double until = std::min(years_of_need(c), part.shelf_life_years.base());
  const double rate = part.other_uses_per_year.base();
  const double growth = std::log1p(c.horizon.discount_rate.base());
  const std::vector<double> uses = stock_uses(most_spares, rate, until, growth);
  const std::vector<double> left = stock_left(most_spares, rate, until);
  WorthCurve curve;
  for (std::size_t k = 0; k < uses.size(); ++k) {
    curve.push_back(uses[k] * small_order + left[k] * resale);
    if (k > most_simulated && curve[k] - curve[k - 1] - resale < 1e-9) break;
  }
  return curve;
}

// A curve that ends in zero steps need not say so.
void shorten(WorthCurve& curve) {
  while (curve.size() > 1 && curve.back() - curve[curve.size() - 2] <= 1e-9) curve.pop_back();
}

}  // namespace

WorthCurve levelled(const WorthCurve& curve, double least, double most) {
  struct Block {
    double sum;
    int steps;
    [[nodiscard]] double mean() const { return sum / steps; }
  };
  std::vector<Block> blocks;
  for (std::size_t k = 1; k < curve.size(); ++k) {
    blocks.push_back({curve[k] - curve[k - 1], 1});
    while (blocks.size() > 1 && blocks[blocks.size() - 2].mean() < blocks.back().mean()) {
      const Block last = blocks.back();
      blocks.pop_back();
      blocks.back().sum += last.sum;
      blocks.back().steps += last.steps;
    }
  }
  WorthCurve result{0.0};
  for (const Block& block : blocks) {
    const double step = std::max(least, std::min(most, block.mean()));
    for (int i = 0; i < block.steps; ++i) result.push_back(result.back() + step);
  }
  return result;
}

SpareWorth spare_worth(const Contest& contest, const Option& option, int fallback, int part, int need,
                       const BuySettings& settings) {
  const Case& c = contest.model.c;
  const auto p = static_cast<std::size_t>(part);
  const Part& kind = c.parts[p];
  const double horizon = years_of_need(c);
  const double day = c.downtime.per_day.base();
  const bool keeps = kind.shelf_life_years.base() >= horizon;
  const double resale =
      keeps ? kind.spare_resale.base() * discount_factor(c.horizon.discount_rate.base(), horizon) : 0.0;

  Case fitting = c;
  for (auto& every : fitting.parts) {
    for (auto& candidate : every.candidates) {
      candidate.fit = Quantity::exactly(1.0);
      candidate.nominal.clear();
    }
  }
  ModelCache cache;
  const DeviceModel model = DeviceModel::make(fitting, Hypothesis{}, cache);

  SpareWorth worth;
  const int count = static_cast<int>(kind.candidates.size());
  for (int k = 0; k < count; ++k) {
    const int on_hand = kind.candidates[static_cast<std::size_t>(k)].on_hand;
    std::vector<Option> options;
    for (int spares = 0; spares <= static_cast<int>(most_simulated); ++spares) {
      options.push_back(option);
      auto& supply = options.back().plan.supplies[p];
      supply.candidate = k;
      supply.hedge_candidate = -1;
      supply.hedge_pieces = 0;
      supply.trial.clear();
      for (int i = 0; i < count; ++i) supply.trial.push_back((k + i) % count);
      supply.first_pieces = std::max(0, need - on_hand) + spares;
    }
    const int futures = std::min(settings.futures, most_worth_futures);
    const auto ensemble = run_ensemble(
        model, contest.book, options, std::vector<int>(options.size(), fallback),
        {.seed = settings.seed, .futures = futures, .threads = settings.threads, .draw_prices = false});

    SpareWorth::OfCandidate answer;
    const int reorder = option.plan.supplies[p].reorders[static_cast<std::size_t>(k)].front();
    if (reorder >= 0) {
      const LandedCost& cost = contest.book.order(reorder).cost;
      answer.small_order = cost.total + cost.wait_days * day;
    }
    answer.resale = resale;
    const int elsewhere = contest.book.small_order(part);
    const double saved = elsewhere >= 0 ? contest.book.order(elsewhere).cost.total : 0.0;
    const double most = std::max({answer.small_order, saved, resale});
    WorthCurve simulated;
    for (std::size_t i = 0; i < options.size(); ++i) {
      simulated.push_back(ensemble.mean_cost(0) - ensemble.mean_cost(i));
      answer.used.push_back(std::max(
          0.0, (ensemble.tallies[i].counts.spares_used - ensemble.tallies[0].counts.spares_used) / futures));
    }
    answer.elsewhere = levelled(worth_elsewhere(kind, c, saved, resale), resale, most);
    // The repair itself has no use for so many, so that what follows is worth as much as without it.
    for (std::size_t i = simulated.size(); i < answer.elsewhere.size(); ++i) {
      simulated.push_back(simulated.back() + answer.elsewhere[i] - answer.elsewhere[i - 1]);
    }
    answer.if_used = levelled(simulated, 0.0, most);
    shorten(answer.if_used);
    shorten(answer.elsewhere);
    worth.candidates.push_back(std::move(answer));
  }
  return worth;
}

}  // namespace mendworth
