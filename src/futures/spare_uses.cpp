#include "futures/spare_uses.hpp"

#include <algorithm>
#include <cmath>

#include "futures/worker.hpp"

namespace mendworth {
namespace {

/// A call for pieces: by this device, or by another one, which asks for a single piece.
struct Call {
  double t;
  int pieces;
  bool elsewhere;
};

/// Calls of one part in one future, in the order of time.
std::vector<Call> calls_of(const std::vector<PieceDemand>& demands, Future& future, int part, int most) {
  const auto& physics = future.physics();
  const auto& terms = physics.parts[static_cast<std::size_t>(part)];
  const double until = std::min(physics.end, terms.shelf_life_years);
  std::vector<Call> calls;
  for (const PieceDemand& demand : demands) {
    if (demand.part == part && demand.t <= until) calls.push_back({demand.t, demand.pieces, false});
  }
  if (terms.other_uses_per_year > 0) {
    double t = 0;
    for (int i = 0; i < most; ++i) {
      t += future.other_use_wait(part, i) / terms.other_uses_per_year;
      if (t > until) break;
      calls.push_back({t, 1, true});
    }
  }
  std::stable_sort(calls.begin(), calls.end(), [](const Call& a, const Call& b) { return a.t < b.t; });
  return calls;
}

class PartSums {
 public:
  PartSums(const Scene& scene, const std::vector<UnitCost>& unit, int part, int most)
      : scene_(scene), unit_(unit), part_(part), most_(static_cast<std::size_t>(most)) {
    const auto candidates = scene.model.c.parts[static_cast<std::size_t>(part)].candidates.size();
    sums_.saved.assign(candidates, std::vector<double>(most_ + 1, 0.0));
    sums_.used.assign(most_ + 1, 0.0);
    sums_.left.assign(most_ + 1, 0.0);
    elsewhere_ =
        -unit[static_cast<std::size_t>(scene.items.parts[static_cast<std::size_t>(part)].used_elsewhere)]
             .money;
  }

  void add(const std::vector<Call>& calls, const Physics& physics) {
    const double until =
        std::min(physics.end, physics.parts[static_cast<std::size_t>(part_)].shelf_life_years);
    const double worth_at_end = std::exp(-physics.log_growth * until);
    int wanted = 0;
    gains_.clear();
    for (const Call& call : calls) {
      wanted += call.pieces;
      const double worth = std::exp(-physics.log_growth * call.t);
      for (std::size_t k = 0; k < sums_.saved.size(); ++k)
        gains_.push_back(worth *
                         (call.elsewhere ? elsewhere_ : order_cost(static_cast<int>(k), call.pieces)));
    }
    saved_.assign(sums_.saved.size(), 0.0);
    int used = 0;
    for (std::size_t s = 0; s <= most_; ++s) {
      // Beyond all that is wanted another spare changes nothing but what is left.
      if (s > 0 && static_cast<int>(s) <= wanted) used = serve(calls, static_cast<int>(s));
      for (std::size_t k = 0; k < saved_.size(); ++k) sums_.saved[k][s] += saved_[k];
      sums_.used[s] += used;
      sums_.left[s] += (static_cast<int>(s) - used) * worth_at_end;
    }
  }

  [[nodiscard]] SpareUses means(int futures) {
    for (auto& curve : sums_.saved) {
      for (double& v : curve) v /= futures;
    }
    for (double& v : sums_.used) v /= futures;
    for (double& v : sums_.left) v /= futures;
    return std::move(sums_);
  }

 private:
  /// Calls are met as they come; what that saves goes to saved_.
  int serve(const std::vector<Call>& calls, int spares) {
    std::fill(saved_.begin(), saved_.end(), 0.0);
    const int before = spares;
    auto gain = gains_.cbegin();
    for (const Call& call : calls) {
      const bool is_met = call.pieces <= spares;
      if (is_met) spares -= call.pieces;
      for (double& saved : saved_) {
        if (is_met) saved += *gain;
        ++gain;
      }
    }
    return before - spares;
  }

  [[nodiscard]] double order_cost(int candidate, int pieces) const {
    int kind = scene_.book.reorder(part_, candidate, pieces);
    if (kind < 0) kind = scene_.book.small_order(part_);
    if (kind < 0) return 0.0;
    return unit_[static_cast<std::size_t>(scene_.items.orders[static_cast<std::size_t>(kind)][Phase::later])]
        .total();
  }

  const Scene& scene_;
  const std::vector<UnitCost>& unit_;
  int part_;
  std::size_t most_;
  double elsewhere_ = 0;
  SpareUses sums_;
  // Of the future at hand, by candidate: what meeting each call saves, and all that are met.
  std::vector<double> gains_, saved_;
};

}  // namespace

std::vector<SpareUses> spare_uses(const Scene& scene, const std::vector<UnitCost>& unit, const Option& option,
                                  int most, std::uint64_t seed, int futures) {
  const int parts = static_cast<int>(scene.model.c.parts.size());
  std::vector<PartSums> sums;
  for (int p = 0; p < parts; ++p) sums.emplace_back(scene, unit, p, most);
  Worker worker(scene, {.seed = seed, .draw_prices = false});
  Tally tally;
  std::vector<PieceDemand> demands;
  for (int f = 0; f < futures; ++f) {
    Future& future = worker.begin(static_cast<std::uint64_t>(f));
    demands.clear();
    worker.runner().run(option, future, worker.prices(), tally, {.demands = &demands, .all_well_now = true});
    for (int p = 0; p < parts; ++p)
      sums[static_cast<std::size_t>(p)].add(calls_of(demands, future, p, 4 * most), future.physics());
  }
  std::vector<SpareUses> uses;
  for (auto& part : sums) uses.push_back(part.means(futures));
  return uses;
}

}  // namespace mendworth
