#include "futures/redraws.hpp"

#include <algorithm>

#include "futures/worker.hpp"

namespace mendworth {
namespace {

constexpr int most_candidates_told = 5;
constexpr std::uint64_t other_seed = 0x9e3779b97f4a7c15;  // added to the seed: random numbers of their own

/// Runs the two options through the future at hand; keeps what they amount to.
class Pair {
 public:
  Pair(Worker& worker, const std::array<Option, 2>& options, int items) : worker_(worker), options_(options) {
    for (Tally& tally : tallies_) tally.reset(items);
  }

  double run(Future& future) {
    std::array<double, 2> cost{};
    for (std::size_t o = 0; o < 2; ++o) {
      tallies_[o].clear();
      cost[o] = worker_.runner().run(options_[o], future, worker_.prices(), tallies_[o], {});
    }
    return cost[0] - cost[1];
  }
  /// What the last run amounts to, so that it need not be run again at other prices.
  void note() {
    amounts_.clear();
    for (std::size_t i = 0; i < tallies_[0].items.size(); ++i) {
      const double amount = tallies_[0].items[i].amount - tallies_[1].items[i].amount;
      if (amount != 0.0) amounts_.push_back({static_cast<int>(i), amount});
    }
  }
  [[nodiscard]] double priced() const {
    double cost = 0;
    for (const Amount& each : amounts_) cost += each.amount * worker_.prices().total(each.item);
    return cost;
  }

 private:
  struct Amount {
    int item;
    double amount;
  };
  Worker& worker_;
  const std::array<Option, 2>& options_;
  std::array<Tally, 2> tallies_;
  std::vector<Amount> amounts_;
};

}  // namespace

bool may_misfit(const DeviceModel& model, std::size_t part) {
  const auto& parts = model.c.parts;
  std::size_t first = 0;
  for (std::size_t p = 0; p < part; ++p) first += std::max<std::size_t>(1, parts[p].candidates.size());
  for (std::size_t k = 0; k < parts[part].candidates.size(); ++k) {
    if (!model.windows[first + k].empty() || parts[part].candidates[k].fit.low() < 1.0) return true;
  }
  return false;
}

DrawnValues drawn_values(const Scene& scene, const std::vector<Option>& options, std::uint64_t seed,
                         int futures) {
  const auto count = static_cast<std::size_t>(futures);
  const Case& c = scene.model.c;
  DrawnValues values;
  values.ranges.assign(scene.model.uncertain.size(), std::vector<double>(count));
  values.fits.resize(c.parts.size());
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    if (may_misfit(scene.model, p)) values.fits[p].resize(count);
  }
  values.costs.assign(options.size(), std::vector<double>(count));
  Worker worker(scene, {.seed = seed});
  Tally no_items;
  for (std::size_t f = 0; f < count; ++f) {
    Future& future = worker.begin(f);
    for (std::size_t o = 0; o < options.size(); ++o)
      values.costs[o][f] = worker.runner().run(options[o], future, worker.prices(), no_items, {});
    for (std::size_t i = 0; i < values.ranges.size(); ++i) values.ranges[i][f] = worker.drawn(i);
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
      if (values.fits[p].empty()) continue;
      const int told = std::min(most_candidates_told, static_cast<int>(c.parts[p].candidates.size()));
      double set = 0;
      for (int k = 0; k < told; ++k)
        set = 2 * set + (future.fits(future.physics().first_candidate[p] + k) ? 1.0 : 0.0);
      values.fits[p][f] = set;
    }
  }
  for (auto& sets : values.fits) {
    if (std::all_of(sets.begin(), sets.end(), [&](double set) { return set == sets.front(); })) sets.clear();
  }
  return values;
}

Redraws redraws(const Scene& scene, const std::array<Option, 2>& options, std::uint64_t seed, int futures) {
  const auto count = static_cast<std::size_t>(futures);
  const auto& uncertain = scene.model.uncertain;
  Redraws result;
  result.range_anew.resize(uncertain.size());
  const auto& parts = scene.model.c.parts;
  result.fit_anew.resize(parts.size());
  const RandomBlocks others(seed + other_seed);
  Worker as_drawn(scene, {.seed = seed}), luck_anew(scene, {.seed = seed, .luck_seed = seed + other_seed}),
      ranges_anew(scene, {.seed = seed + other_seed, .luck_seed = seed});
  Pair pair(as_drawn, options, scene.items.size()), luck_pair(luck_anew, options, scene.items.size()),
      ranges_pair(ranges_anew, options, scene.items.size());
  for (std::size_t f = 0; f < count; ++f) {
    result.as_drawn.push_back(pair.run(as_drawn.begin(f)));
    result.luck_anew.push_back(luck_pair.run(luck_anew.begin(f)));
    result.ranges_anew.push_back(ranges_pair.run(ranges_anew.begin(f)));
    pair.note();
    // Fit and prices first, while nothing else has changed.
    for (std::size_t p = 0; p < parts.size(); ++p) {
      if (!may_misfit(scene.model, p)) continue;
      as_drawn.future().draw_fit_anew(static_cast<int>(p), &others);
      result.fit_anew[p].push_back(pair.run(as_drawn.future()));
      as_drawn.future().draw_fit_anew(static_cast<int>(p), nullptr);
    }
    for (const bool price : {true, false}) {
      for (std::size_t i = 0; i < uncertain.size(); ++i) {
        if (uncertain[i].is_price != price) continue;
        const double before = as_drawn.drawn(i);
        Future& future = as_drawn.draw_anew(i, others);
        result.range_anew[i].push_back(price ? pair.priced() : pair.run(future));
        as_drawn.put_back(i, before);
      }
      // The last price is put back only now.
      if (price) as_drawn.take_prices();
    }
  }
  return result;
}

}  // namespace mendworth
