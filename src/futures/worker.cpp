#include "futures/worker.hpp"

#include <cmath>

namespace mendworth {
namespace {

// An envelope of many dimensions is coarse; the limit keeps a worker from drawing for ever.
constexpr std::uint64_t most_attempts = 256;
constexpr std::uint64_t choice_index = 1'000'000;  // of the random block that picks and decides

}  // namespace

Worker::Worker(const DeviceModel& model, const OrderBook& book, const WorkerSettings& settings)
    : model_(model),
      drawn_(model.c),
      random_(settings.seed),
      prices_(model.layout, book),
      future_(model, settings.seed),
      runner_(model, book) {
  std::vector<Quantity*> all;
  for_each_quantity(drawn_, [&](const std::string&, Quantity& q) { all.push_back(&q); });
  for (const auto& u : model.uncertain) {
    if (u.is_price && !settings.draw_prices) continue;
    auto& targets = u.bears_on_wear ? wear_targets_ : other_targets_;
    targets.push_back({.quantity = all[static_cast<std::size_t>(u.ordinal)], .from = &u});
    physics_drawn_ = physics_drawn_ || !u.is_price;
  }
  prices_drawn_ = model.price_uncertain && settings.draw_prices;
  physics_.take(drawn_, model);
  prices_.take(drawn_, true);
}

double Worker::uniform(std::uint64_t number, const Target& target, std::uint64_t attempt) {
  const int n = target.from->draw_number;
  if (n / 4 != block_number_ || attempt != block_attempt_) {
    block_number_ = n / 4;
    block_attempt_ = attempt;
    block_ = random_(Stream::inputs, number, static_cast<std::uint64_t>(block_number_), attempt);
  }
  return block_[static_cast<std::size_t>(n % 4)];
}

double Worker::log_fit() const {
  const double age = drawn_.device.age_years.base();
  // A failure seen now is a density in time: of two ages that wear explains alike, the younger one hits it better.
  double fit = model_.failures_by_wear * std::log(model_.c.device.age_years.low() / age);
  for (std::size_t p = 0; p < model_.lives.size(); ++p) {
    const auto& life = drawn_.parts[p].life;
    if (model_.lives[p]->log_fit.empty()) continue;
    fit += model_.lives[p]->log_fit_at(
        std::log(life.rated_life.base() / (age * use_per_year(drawn_.device, life.unit))));
  }
  return fit;
}

void Worker::draw_wear(std::uint64_t number) {
  const auto& envelope = *model_.envelope;
  for (std::uint64_t attempt = 0; attempt < most_attempts; ++attempt) {
    const auto luck = random_(Stream::inputs, number, choice_index, attempt);
    const std::size_t cell = envelope.cell(luck[0]);
    for (int d = 0; d < envelope.dimensions(); ++d) {
      const auto& target = wear_targets_[static_cast<std::size_t>(d)];
      const double within = d < 2 ? luck[static_cast<std::size_t>(2 + d)] : uniform(number, target, attempt);
      *target.quantity = Quantity::exactly((*target.from->sampler)(envelope.place(cell, d, within)));
    }
    if (std::log(luck[1]) < log_fit() - envelope.log_bound(cell)) return;
  }
}

Future& Worker::begin(std::uint64_t number) {
  block_number_ = -1;
  if (!wear_targets_.empty()) draw_wear(number);
  for (const auto& target : other_targets_) {
    *target.quantity = Quantity::exactly((*target.from->sampler)(uniform(number, target, 0)));
  }
  if (physics_drawn_) physics_.take(drawn_, model_);
  if (prices_drawn_) prices_.take(drawn_, model_.purchase_uncertain);
  future_.begin(number, physics_);
  return future_;
}

}  // namespace mendworth
