#include "futures/worker.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth {
namespace {

// An envelope of many dimensions is coarse; the limit keeps a worker from drawing for ever.
constexpr std::uint64_t most_attempts = 256;
constexpr std::uint64_t choice_index = 1'000'000;  // of the random block that picks and decides
constexpr std::size_t places_of_range = 48;        // looked at when one of several ranges is drawn anew

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
  number_ = number;
  if (!wear_targets_.empty()) draw_wear(number);
  if (!other_targets_.empty()) draw_others(number);
  if (physics_drawn_) physics_.take(drawn_, model_);
  if (prices_drawn_) prices_.take(drawn_, model_.purchase_uncertain);
  future_.begin(number, physics_);
  return future_;
}

Future& Worker::draw_anew(std::size_t range, const RandomBlocks& others) {
  const Target& one = target(range);
  if (range < wear_targets_.size()) {
    // By its law given the other ranges: one of many places, evenly spread, in proportion to how well each fits.
    const auto luck = others(Stream::inputs, number_, choice_index, range);
    std::array<double, places_of_range> sums{};
    double total = 0;
    const auto put = [&](std::size_t place) {
      const double u = (static_cast<double>(place) + luck[0]) / static_cast<double>(places_of_range);
      *one.quantity = Quantity::exactly((*one.sampler)(u));
    };
    for (std::size_t place = 0; place < places_of_range; ++place) {
      put(place);
      sums[place] = total += std::exp(log_fit());
    }
    const auto found = std::upper_bound(sums.begin(), sums.end() - 1, luck[1] * total);
    put(static_cast<std::size_t>(found - sums.begin()));
  } else {
    const Block& block = blocks_[one.block];
    const auto uniforms = others(Stream::inputs, number_, block.index, block.sub);
    *one.quantity = Quantity::exactly((*one.sampler)(uniforms[one.lane]));
  }
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
