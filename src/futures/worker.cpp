#include "futures/worker.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth {
namespace {

constexpr int points_of_range = 33;  // looked at when one of several ranges is drawn anew

}  // namespace

Worker::Worker(const Scene& scene, const WorkerSettings& settings)
    : model_(scene.model),
      drawn_(scene.model.c),
      random_(settings.seed),
      prices_(scene.model.c, scene.items, scene.book),
      future_(scene.model, settings.luck_seed.value_or(settings.seed)),
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
    if (known == blocks_.end()) blocks_.push_back({.index = u.block, .sub = sub});
    targets.push_back({.quantity = all[static_cast<std::size_t>(u.ordinal)],
                       .sampler = u.sampler.get(),
                       .block = block,
                       .lane = static_cast<std::size_t>(u.lane % 4)});
    physics_drawn_ = physics_drawn_ || !u.is_price;
  }
  wear_uniforms_.resize(wear_targets_.size());
  wear_places_.resize(wear_targets_.size());
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

void Worker::draw_ranges(std::uint64_t number) {
  for (Block& block : blocks_) block.uniforms = random_(Stream::inputs, number, block.index, block.sub);
  const auto uniform = [this](const Target& target) { return blocks_[target.block].uniforms[target.lane]; };
  const auto put = [](const Target& target, double place) {
    *target.quantity = Quantity::exactly((*target.sampler)(place));
  };
  if (!wear_targets_.empty()) {
    std::transform(wear_targets_.begin(), wear_targets_.end(), wear_uniforms_.begin(), uniform);
    model_.wear->draw(wear_uniforms_, wear_places_, wear_scratch_);
    for (std::size_t d = 0; d < wear_targets_.size(); ++d) put(wear_targets_[d], wear_places_[d]);
  }
  for (const Target& target : other_targets_) put(target, uniform(target));
}

Future& Worker::begin(std::uint64_t number) {
  number_ = number;
  draw_ranges(number);
  if (physics_drawn_) physics_.take(drawn_, model_);
  if (prices_drawn_) prices_.take(drawn_, model_.purchase_uncertain);
  future_.begin(number, physics_);
  return future_;
}

Future& Worker::draw_anew(std::size_t range, const RandomBlocks& others) {
  const Target& one = target(range);
  const Block& block = blocks_[one.block];
  double place = others(Stream::inputs, number_, block.index, block.sub)[one.lane];
  const auto put = [&](double at) { *one.quantity = Quantity::exactly((*one.sampler)(at)); };
  if (range < wear_targets_.size()) {
    // By its law given the other ranges.
    wear_scratch_.logs.clear();
    for (int i = 0; i < points_of_range; ++i) {
      put(std::clamp(static_cast<double>(i) / (points_of_range - 1), 1e-9, 1 - 1e-9));
      wear_scratch_.logs.push_back(log_fit());
    }
    wear_scratch_.density.take(wear_scratch_.logs);
    place = wear_scratch_.density.quantile(place);
  }
  put(place);
  const auto& input = model_.uncertain[range];
  if (input.is_price) {
    take_prices();
  } else {
    physics_.take(drawn_, model_);
    future_.begin(number_, physics_);
  }
  return future_;
}

}  // namespace mendworth
