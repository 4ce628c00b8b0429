#include "futures/ensemble.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "futures/parallel.hpp"
#include "model/pricing.hpp"

namespace mendworth {
namespace {

constexpr int least_block = 256, most_block = 16384, most_blocks = 256;

/// Futures a block: enough blocks to share among threads, few enough to keep their tallies in memory. Depends on
/// nothing but the number of futures, so the order of summation does not either.
int block_size_for(int futures) {
  int size = least_block;
  while (size < most_block && futures / size > most_blocks) size *= 2;
  return size;
}

/// One thread's working memory: the case with drawn values, and what follows from them.
class Worker {
 public:
  Worker(const DeviceModel& model, const OrderBook& book, const EnsembleSettings& settings)
      : model_(model),
        book_(book),
        drawn_(model.c),
        random_(settings.seed),
        future_(model, settings.seed),
        runner_(model, book) {
    std::vector<Quantity*> all;
    for_each_quantity(drawn_, [&](const std::string&, Quantity& q) { all.push_back(&q); });
    for (const auto& u : model.uncertain) {
      if (u.is_price && !settings.draw_prices) continue;
      targets_.push_back({.quantity = all[static_cast<std::size_t>(u.ordinal)], .from = &u});
      physics_drawn_ = physics_drawn_ || !u.is_price;
    }
    prices_drawn_ = model.price_uncertain && settings.draw_prices;
    physics_.take(drawn_, model);
    price_items(drawn_, model.layout, unit_);
    price_orders(drawn_, model.layout, book, Suppliers::as_chosen, unit_);
  }

  Future& begin(std::uint64_t number) {
    if (!targets_.empty()) draw_inputs(number);
    future_.begin(number, physics_);
    return future_;
  }
  Runner& runner() noexcept { return runner_; }
  [[nodiscard]] const std::vector<UnitCost>& unit() const noexcept { return unit_; }

 private:
  void draw_inputs(std::uint64_t number) {
    std::array<double, 4> block{};
    int drawn_block = -1;
    for (const auto& target : targets_) {
      const int ordinal = target.from->ordinal;
      if (ordinal / 4 != drawn_block) {
        drawn_block = ordinal / 4;
        block = random_(Stream::inputs, number, static_cast<std::uint64_t>(drawn_block));
      }
      *target.quantity =
          Quantity::exactly((*target.from->sampler)(block[static_cast<std::size_t>(ordinal % 4)]));
    }
    if (physics_drawn_) physics_.take(drawn_, model_);
    if (!prices_drawn_) return;
    // Orders are dear to price: only when a range bears on them.
    if (model_.purchase_uncertain) {
      price_items(drawn_, model_.layout, unit_);
      price_orders(drawn_, model_.layout, book_, Suppliers::as_chosen, unit_);
    } else {
      kept_ = unit_;
      price_items(drawn_, model_.layout, unit_);
      const auto orders = static_cast<std::ptrdiff_t>(model_.layout.first_order_item());
      unit_.insert(unit_.end(), kept_.begin() + orders, kept_.end());
      for (int p = 0; p < static_cast<int>(model_.c.parts.size()); ++p) {
        const auto item = static_cast<std::size_t>(model_.layout.spare_used_elsewhere(p));
        unit_[item] = kept_[item];
      }
    }
  }

  const DeviceModel& model_;
  const OrderBook& book_;
  Case drawn_;
  struct Target {
    Quantity* quantity;
    const DeviceModel::Uncertain* from;
  };
  std::vector<Target> targets_;
  bool physics_drawn_ = false, prices_drawn_ = false;
  RandomBlocks random_;
  Physics physics_;
  std::vector<UnitCost> unit_, kept_;
  Future future_;
  Runner runner_;
};

/// Groups of options that run together, each in the order of rising limits.
std::vector<std::vector<std::size_t>> shared_runs(const std::vector<Option>& options,
                                                  const std::vector<int>& fallbacks) {
  std::vector<std::size_t> order(options.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return options[a].plan.later_limit < options[b].plan.later_limit;
  });
  std::vector<std::vector<std::size_t>> shares;
  for (const std::size_t o : order) {
    const Lane lane{.option = &options[o], .fallback = fallbacks[o]};
    const auto fitting =
        std::find_if(shares.begin(), shares.end(), [&](const std::vector<std::size_t>& share) {
          return can_share({.option = &options[share.back()], .fallback = fallbacks[share.back()]}, lane);
        });
    if (fitting == shares.end()) {
      shares.push_back({o});
    } else {
      fitting->push_back(o);
    }
  }
  return shares;
}

}  // namespace

double Ensemble::cost_error(std::size_t option) const {
  if (futures < 2) return 0.0;
  const auto& tally = tallies[option];
  const double n = futures;
  const double mean = tally.cost / n;
  const double variance = std::max(0.0, tally.cost_squared / n - mean * mean) * n / (n - 1.0);
  return std::sqrt(variance / n);
}

Ensemble run_ensemble(const DeviceModel& model, const OrderBook& book, const std::vector<Option>& options,
                      const std::vector<int>& fallbacks, const EnsembleSettings& settings) {
  const std::size_t count = options.size();
  const int items = model.layout.size(book.size());
  const int block_size = block_size_for(settings.futures);
  const int blocks = (settings.futures + block_size - 1) / block_size;
  const int threads = std::clamp(settings.threads, 1, std::max(blocks, 1));

  Ensemble result;
  result.futures = settings.futures;
  result.tallies.resize(count);
  for (auto& tally : result.tallies) tally.reset(items);
  if (settings.keep_costs) {
    result.costs.assign(count, std::vector<double>(static_cast<std::size_t>(settings.futures)));
  }
  std::vector<std::vector<Timeline>> block_timelines(static_cast<std::size_t>(blocks));
  std::vector<std::vector<Tally>> block_tallies(static_cast<std::size_t>(blocks));
  std::vector<std::unique_ptr<Worker>> workers(static_cast<std::size_t>(threads));

  const auto shares = shared_runs(options, fallbacks);
  for_each_parallel(blocks, threads, [&](int w, int b) {
    auto& worker = workers[static_cast<std::size_t>(w)];
    if (!worker) worker = std::make_unique<Worker>(model, book, settings);
    auto& tallies = block_tallies[static_cast<std::size_t>(b)];
    tallies.resize(count);
    for (auto& tally : tallies) tally.reset(items);
    auto& timelines = block_timelines[static_cast<std::size_t>(b)];
    if (settings.timeline_bins > 0) timelines.assign(count, Timeline(settings.timeline_bins));

    std::vector<Lane> lanes;
    for (const auto& share : shares) {
      for (const std::size_t o : share) {
        lanes.push_back({.option = &options[o],
                         .fallback = fallbacks[o],
                         .tally = &tallies[o],
                         .timeline = timelines.empty() ? nullptr : &timelines[o]});
      }
    }
    const int end = std::min((b + 1) * block_size, settings.futures);
    for (int f = b * block_size; f < end; ++f) {
      Future& future = worker->begin(static_cast<std::uint64_t>(f));
      std::span<Lane> rest(lanes);
      for (const auto& share : shares) {
        const auto together = rest.first(share.size());
        rest = rest.subspan(share.size());
        worker->runner().run(together, future, worker->unit());
        if (!settings.keep_costs) continue;
        for (std::size_t i = 0; i < share.size(); ++i) {
          result.costs[share[i]][static_cast<std::size_t>(f)] = together[i].cost;
        }
      }
    }
  });

  for (const auto& tallies : block_tallies) {
    for (std::size_t o = 0; o < count; ++o) result.tallies[o].add(tallies[o]);
  }
  if (settings.timeline_bins > 0) {
    result.timelines.assign(count,
                            std::vector<double>(static_cast<std::size_t>(settings.timeline_bins), 0.0));
    for (const auto& timelines : block_timelines) {
      for (std::size_t o = 0; o < count; ++o) {
        for (std::size_t i = 0; i < result.timelines[o].size(); ++i) {
          result.timelines[o][i] += timelines[o].cost[i] / settings.futures;
        }
      }
    }
  }
  return result;
}

}  // namespace mendworth
