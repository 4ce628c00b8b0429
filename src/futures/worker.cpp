#include "futures/worker.hpp"

#include <cmath>

namespace mendworth {
namespace {

// Evidence that few draws fit would keep a worker drawing for ever; after these attempts the best compromise is a
// choice among them by how well they fit.
constexpr int most_attempts = 64;
constexpr std::uint64_t choice_index = 1'000'000;  // of the random block that decides

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

void Worker::draw(std::uint64_t number, const Target& target, std::uint64_t attempt) {
  const int n = target.from->draw_number;
  if (n / 4 != block_number_ || attempt != block_attempt_) {
    block_number_ = n / 4;
    block_attempt_ = attempt;
    block_ = random_(Stream::inputs, number, static_cast<std::uint64_t>(block_number_), attempt);
  }
  *target.quantity = Quantity::exactly((*target.from->sampler)(block_[static_cast<std::size_t>(n % 4)]));
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
  std::array<double, most_attempts> weights{};
  double total = 0;
  for (int attempt = 0; attempt < most_attempts; ++attempt) {
    for (const auto& target : wear_targets_) draw(number, target, static_cast<std::uint64_t>(attempt));
    const double weight = std::exp(log_fit());
    if (weight >= 1.0) return;
    const auto luck = random_(Stream::inputs, number, choice_index, static_cast<std::uint64_t>(attempt));
    if (luck[0] < weight) return;
    weights[static_cast<std::size_t>(attempt)] = weight;
    total += weight;
  }
  if (!(total > 0)) return;
  double left = random_(Stream::inputs, number, choice_index + 1)[0] * total;
  int chosen = 0;
  while (chosen + 1 < most_attempts && left > weights[static_cast<std::size_t>(chosen)]) {
    left -= weights[static_cast<std::size_t>(chosen++)];
  }
  for (const auto& target : wear_targets_) draw(number, target, static_cast<std::uint64_t>(chosen));
}

Future& Worker::begin(std::uint64_t number) {
  block_number_ = -1;
  if (!wear_targets_.empty()) draw_wear(number);
  for (const auto& target : other_targets_) draw(number, target, 0);
  if (physics_drawn_) physics_.take(drawn_, model_);
  if (prices_drawn_) prices_.take(drawn_, model_.purchase_uncertain);
  future_.begin(number, physics_);
  return future_;
}

}  // namespace mendworth
