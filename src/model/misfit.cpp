#include "model/misfit.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

namespace mendworth {
namespace {

unsigned bit(int candidate) { return 1U << static_cast<unsigned>(candidate); }

double end_cost_of(const Tries& tries) {
  if (std::isfinite(tries.give_up)) return tries.give_up;
  if (tries.without_device) return *tries.without_device;
  double all = tries.candidates * tries.try_cost;
  for (const double order : tries.order_again) all += std::isfinite(order) ? order : 0;
  return 100 * std::max(1.0, all);
}

}  // namespace

MisfitCost::MisfitCost(const Tries& tries) : try_cost_(tries.try_cost), end_cost_(end_cost_of(tries)) {
  if (tries.candidates < 1 || tries.candidates > most_tried ||
      tries.order_again.size() != static_cast<std::size_t>(tries.candidates)) {
    throw std::invalid_argument("MisfitCost: wrong number of candidates");
  }
  const unsigned sets = 1U << static_cast<unsigned>(tries.candidates);
  none_.resize(sets);
  go_on_.resize(sets);
  next_.assign(sets, -1);
  for (unsigned set = 0; set < sets; ++set) none_[set] = tries.none_fits(set);
  // Backwards: what follows a set that has failed is a larger one.
  for (unsigned set = sets; set-- > 0;) {
    const bool may_end = std::isfinite(tries.give_up);
    go_on_[set] = none(set) * end_cost_;
    bool first = !may_end;
    for (int k = 0; k < tries.candidates; ++k) {
      if ((set & bit(k)) != 0) continue;
      const unsigned then = set | bit(k);
      const double again = tries.order_again[static_cast<std::size_t>(k)];
      if (!may_end && !(std::isfinite(again) && none(then) < none(set))) continue;
      const double cost = none(set) * again + none(then) * try_cost_ + go_on_[then];
      if (!first && !(cost < go_on_[set])) continue;
      first = false;
      go_on_[set] = cost;
      next_[set] = k;
    }
  }
}

double MisfitCost::alone(int candidate) const {
  const unsigned set = bit(candidate);
  return none(set) * try_cost_ + go_on_[set];
}

double MisfitCost::hedge(int first, int second) const {
  const unsigned both = bit(first) | bit(second);
  return none(bit(first)) * try_cost_ + none(both) * try_cost_ + go_on_[both];
}

std::vector<int> MisfitCost::order_after(const std::vector<int>& bought) const {
  std::vector<int> order = bought;
  unsigned set = 0;
  for (const int candidate : bought) set |= bit(candidate);
  for (int next = next_[set]; next >= 0; next = next_[set]) {
    order.push_back(next);
    set |= bit(next);
  }
  return order;
}

}  // namespace mendworth
