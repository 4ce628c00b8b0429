#include "model/hedge.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

#include "model/exact_order.hpp"
#include "model/trial_order.hpp"

namespace mendworth {
namespace {

/// The pieces of another candidate that make it a hedge for a part; absent if nobody sells them, or if the drawer has
/// them anyway.
std::optional<Need> hedge_for(const Case& c, int part, int candidate, int pieces) {
  Need hedge{.part = part, .candidate = candidate, .pieces = pieces};
  const auto packs =
      pack_quantities(c.parts[static_cast<std::size_t>(part)].candidates[static_cast<std::size_t>(candidate)],
                      std::max(1, missing(c, hedge)));
  if (missing(c, hedge) == 0 || packs.empty()) return std::nullopt;
  hedge.pieces = packs.front();
  return hedge;
}

/// Whether a hedge can save more than its goods cost: at most the order of its pieces when the first does not fit.
bool may_pay(const Case& c, const Need& first, const Need& hedge) {
  const double day = c.downtime.per_day.base();
  const auto later = exact_order(c, std::vector<Need>{hedge}, day);
  if (!later) return false;
  const double misfit = 1.0 - fit_chance(c, first.part, first.candidate);
  const double resale = hedge.pieces * c.parts[static_cast<std::size_t>(hedge.part)].spare_resale.base();
  return misfit * (later->cost.total + later->cost.wait_days * day) > later->cost.goods - resale;
}

}  // namespace

int missing(const Case& c, const Need& need) {
  const auto& candidates = c.parts[static_cast<std::size_t>(need.part)].candidates;
  return std::max(0, need.pieces - candidates[static_cast<std::size_t>(need.candidate)].on_hand);
}

std::vector<Variant> hedges_of(const Case& c, const Variant& choice, const std::vector<int>& pieces) {
  std::vector<Variant> hedges;
  Variant together;
  for (const auto& need : choice) {
    if (fit_chance(c, need.part, need.candidate) >= 1.0) continue;
    const int count = static_cast<int>(c.parts[static_cast<std::size_t>(need.part)].candidates.size());
    bool nearest = true;
    for (int i = 1; i < count; ++i) {
      const int other = (need.candidate + i) % count;
      if (fit_chance(c, need.part, other) <= 0.0) continue;
      const auto hedge = hedge_for(c, need.part, other, pieces[static_cast<std::size_t>(need.part)]);
      if (!hedge || !may_pay(c, need, *hedge)) continue;
      hedges.push_back({*hedge});
      if (std::exchange(nearest, false)) together.push_back(*hedge);
    }
  }
  if (together.size() > 1) hedges.push_back(std::move(together));
  return hedges;
}

}  // namespace mendworth
