#include "model/ladder.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "base/sort_unique.hpp"

namespace mendworth {
namespace {

constexpr int kStepsNearNeed = 3;
constexpr std::size_t kMostSteps = 16;  // of those that are not cheaper

std::optional<LadderStep> best_step(const Case& c, std::vector<OrderItem> items, std::size_t line,
                                    int quantity, Parcel parcel) {
  const double day_cost = c.downtime.per_day.base();
  const std::vector<Offer>& offers = candidate_of(c, items[line]).offers;
  const bool as_ordered = quantity == items[line].quantity;
  const int ordered_from = items[line].offer;
  items[line].quantity = quantity;
  std::optional<LadderStep> best;
  for (std::size_t k = 0; k < offers.size(); ++k) {
    const int offer = static_cast<int>(k);
    if (as_ordered ? offer != ordered_from : !is_allowed(offers[k], quantity)) continue;
    items[line].offer = offer;
    const std::optional<LandedCost> cost = landed_cost(c, items, parcel);
    if (!cost) continue;
    const double net = cost->total + day_cost * cost->wait_days;
    if (best && net >= best->cost.total + day_cost * best->cost.wait_days) continue;
    best = LadderStep{items[line], *cost, landed_share(c, items, line, parcel)};
  }
  return best;
}

std::vector<int> quantities_shown(const Candidate& bought, int need, int ordered) {
  std::vector<int> shown{ordered};
  const auto add = [&](std::vector<int> some) {
    sort_unique(some);
    for (const int quantity : some) {
      const bool known = std::find(shown.begin(), shown.end(), quantity) != shown.end();
      if (!known && shown.size() < kMostSteps) shown.push_back(quantity);
    }
  };
  for (int more = 0; more <= kStepsNearNeed; ++more) add(pack_quantities(bought, need + more));
  std::vector<int> breaks;
  for (const Offer& offer : bought.offers) {
    for (const PriceBreak& step : offer.prices) {
      const auto quantity = step.from > need ? least_allowed(offer, step.from) : std::nullopt;
      if (quantity) breaks.push_back(*quantity);
    }
  }
  add(breaks);
  sort_unique(shown);
  return shown;
}

}  // namespace

bool visibly_less(const Case& c, double a, double b) {
  return a < b - 0.5 * std::pow(10.0, -c.device.minor_digits);
}

std::vector<LadderStep> ladder_of(const Case& c, std::span<const OrderItem> items, std::size_t line, int need,
                                  Parcel parcel) {
  const std::vector<OrderItem> order(items.begin(), items.end());
  const int ordered = order[line].quantity;
  const std::vector<int> shown = quantities_shown(candidate_of(c, order[line]), need, ordered);
  std::vector<int> quantities = turning_points(c, items, line, need, parcel);
  quantities.insert(quantities.end(), shown.begin(), shown.end());
  sort_unique(quantities);

  std::vector<LadderStep> steps;
  double least = std::numeric_limits<double>::infinity();
  for (const int quantity : quantities) {
    const std::optional<LadderStep> step = best_step(c, order, line, quantity, parcel);
    if (!step) continue;
    const bool cheaper = visibly_less(c, step->cost.total, least);
    if (cheaper || std::binary_search(shown.begin(), shown.end(), quantity)) steps.push_back(*step);
    // From the ordered quantity on only larger ones that cost less than it are looked for.
    least = quantity == ordered ? step->cost.total : std::min(least, step->cost.total);
  }
  return steps;
}

}  // namespace mendworth
