#include "futures/range_draws.hpp"

#include <algorithm>
#include <cmath>

#include "domain/inputs.hpp"

namespace mendworth {
namespace {

constexpr int points_of_range = 33;  // looked at when one of several ranges is drawn anew
constexpr double end_of_range = 1e-9;

}  // namespace

RangeDraws::RangeDraws(const DeviceModel& model, std::uint64_t seed, bool prices)
    : model_(model), random_(seed), drawn_(model.c) {
  const std::vector<Quantity*> all = quantities_of(drawn_);
  for (const auto& u : model_.uncertain) {
    if (u.is_price && !prices) continue;
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
    of_events_ = of_events_ || !u.is_price;
  }
  wear_uniforms_.resize(wear_targets_.size());
  wear_places_.resize(wear_targets_.size());
}

void RangeDraws::draw(std::uint64_t number) {
  number_ = number;
  for (Block& block : blocks_) block.uniforms = random_(Stream::inputs, number, block.index, block.sub);
  const auto uniform = [this](const Target& target) { return blocks_[target.block].uniforms[target.lane]; };
  if (!wear_targets_.empty()) {
    std::transform(wear_targets_.begin(), wear_targets_.end(), wear_uniforms_.begin(), uniform);
    model_.wear->draw(wear_uniforms_, wear_places_);
    for (std::size_t d = 0; d < wear_targets_.size(); ++d) wear_targets_[d].put(wear_places_[d]);
  }
  for (const Target& target : other_targets_) target.put(uniform(target));
}

double RangeDraws::log_fit() const {
  const double age = drawn_.device.age_years.base();
  double fit = model_.failures_by_wear * std::log(model_.c.device.age_years.low() / age);
  for (std::size_t p = 0; p < model_.lives.size(); ++p) {
    const auto& life = drawn_.parts[p].life;
    if (model_.lives[p]->log_fit.empty()) continue;
    fit += model_.lives[p]->log_fit_at(
        std::log(life.rated_life.base() / (age * use_per_year(drawn_.device, life.unit))));
  }
  return fit;
}

void RangeDraws::draw_anew(std::size_t range, const RandomBlocks& others) {
  const Target& one = target(range);
  const Block& block = blocks_[one.block];
  double place = others(Stream::inputs, number_, block.index, block.sub)[one.lane];
  if (range < wear_targets_.size()) {
    // By its law given the other ranges.
    std::vector<double> logs;
    for (int i = 0; i < points_of_range; ++i) {
      one.put(std::clamp(static_cast<double>(i) / (points_of_range - 1), end_of_range, 1 - end_of_range));
      logs.push_back(log_fit());
    }
    place = LinearDensity(logs).quantile(place);
  }
  one.put(place);
}

}  // namespace mendworth
