#include "futures/worker.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth {
namespace {

// An envelope of many dimensions is coarse; the limit keeps a worker from drawing for ever.
constexpr std::uint64_t most_attempts = 256;
constexpr std::uint64_t choice_index = 1'000'000;  // of the random block that picks and decides

}  // namespace

Worker::Worker(const Scene& scene, const WorkerSettings& settings)
    : model_(scene.model),
      drawn_(scene.model.c),
      random_(settings.seed),
      prices_(scene.model.c, scene.items, scene.book),
      future_(scene.model, settings.seed),
      runner_(scene) {
  std::vector<Quantity*> all;
  for_each_quantity(drawn_, [&](const std::string&, Quantity& q) { all.push_back(&q); });
  for (const auto& u : model_.uncertain) {
    if (u.is_price && !settings.draw_prices) continue;
    auto& targets = u.bears_on_wear ? wear_targets_ : other_targets_;
    const auto sub = static_cast<std::uint64_t>(u.lane / 4);
    const auto known = std::find_if(blocks_.begin(), blocks_.end(), [&](const Block& block) {
      return block.index == u.block && block.sub == sub;
    });
    const auto block = static_cast<std::size_t>(known - blocks_.begin());
    if (known == blocks_.end() && !u.bears_on_wear) blocks_.push_back({.index = u.block, .sub = sub});
    targets.push_back({.quantity = all[static_cast<std::size_t>(u.ordinal)],
                       .sampler = u.sampler.get(),
                       .block = block,
                       .lane = static_cast<std::size_t>(u.lane % 4)});
    physics_drawn_ = physics_drawn_ || !u.is_price;
  }
  prices_drawn_ = model_.price_uncertain && settings.draw_prices;
  physics_.take(drawn_, model_);
  prices_.take(drawn_, true);
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
    std::array<double, 4> more{};
    for (int d = 0; d < envelope.dimensions(); ++d) {
      const auto& target = wear_targets_[static_cast<std::size_t>(d)];
      if (d >= 2 && d % 4 == 2) {
        more = random_(Stream::inputs, number, choice_index + static_cast<std::uint64_t>(d), attempt);
      }
      const double within =
          d < 2 ? luck[static_cast<std::size_t>(2 + d)] : more[static_cast<std::size_t>((d - 2) % 4)];
      *target.quantity = Quantity::exactly((*target.sampler)(envelope.place(cell, d, within)));
    }
    if (std::log(luck[1]) < log_fit() - envelope.log_bound(cell)) return;
  }
}

void Worker::draw_others(std::uint64_t number) {
  for (Block& block : blocks_) block.uniforms = random_(Stream::inputs, number, block.index, block.sub);
  for (const auto& target : other_targets_) {
    *target.quantity = Quantity::exactly((*target.sampler)(blocks_[target.block].uniforms[target.lane]));
  }
}

Future& Worker::begin(std::uint64_t number) {
  if (!wear_targets_.empty()) draw_wear(number);
  if (!other_targets_.empty()) draw_others(number);
  if (physics_drawn_) physics_.take(drawn_, model_);
  if (prices_drawn_) prices_.take(drawn_, model_.purchase_uncertain);
  future_.begin(number, physics_);
  return future_;
}

}  // namespace mendworth
