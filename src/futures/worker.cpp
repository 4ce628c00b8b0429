#include "futures/worker.hpp"

namespace mendworth {

Worker::Worker(const Scene& scene, const WorkerSettings& settings)
    : model_(scene.model),
      settings_(settings),
      store_(scene.store != nullptr && scene.store->seed() == settings.seed && !settings.luck_seed
                 ? scene.store
                 : nullptr),
      prices_drawn_(scene.model.price_uncertain && settings.draw_prices),
      prices_(scene.model.c, scene.items, scene.book),
      future_(scene.model, settings.luck_seed.value_or(settings.seed)),
      runner_(scene) {
  prices_.take(model_.c, true);
}

void Worker::draw_ranges() {
  if (!ranges_) ranges_.emplace(model_, settings_.seed, settings_.draw_prices);
  ranges_->draw(number_);
}

void Worker::take_physics() {
  if (!physics_known_ || ranges_->of_events()) physics_.take(ranges_->drawn(), model_, memory_);
  physics_known_ = true;
}

Future& Worker::begin(std::uint64_t number) {
  number_ = number;
  auto* const kept = store_ == nullptr ? nullptr : store_->at(number);
  const bool known = kept != nullptr && *kept;
  if (!known || prices_drawn_) draw_ranges();
  if (prices_drawn_) take_prices();
  if (known) return (*kept)->future;
  take_physics();
  if (kept != nullptr) {
    *kept = std::make_unique<FutureStore::Kept>(store_->model(), settings_.seed, number, physics_);
    return (*kept)->future;
  }
  future_.begin(number, physics_);
  return future_;
}

Future& Worker::draw_anew(std::size_t range, const RandomBlocks& others) {
  ranges_->draw_anew(range, others);
  if (model_.uncertain[range].is_price) {
    take_prices();
  } else {
    take_physics();
    future_.begin(number_, physics_);
  }
  return future_;
}

}  // namespace mendworth
