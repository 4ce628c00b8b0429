#include "model/order_book.hpp"

#include <algorithm>

#include "model/exact_order.hpp"

namespace mendworth {
namespace {

bool same(const std::vector<Need>& a, const std::vector<Need>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Need& x, const Need& y) {
    return x.part == y.part && x.candidate == y.candidate && x.pieces == y.pieces;
  });
}

}  // namespace

std::optional<int> OrderBook::kind_of(const std::vector<Need>& needs) {
  for (int i = 0; i < size(); ++i) {
    if (same(kinds_[static_cast<std::size_t>(i)].needs, needs)) return i;
  }
  auto order = exact_order(*case_, needs, case_->downtime.per_day.base());
  if (!order) return std::nullopt;
  Kind kind;
  kind.needs = needs;
  kind.order = std::move(*order);
  kinds_.push_back(std::move(kind));
  return size() - 1;
}

void OrderBook::enter_small_orders() {
  small_orders_.assign(case_->parts.size(), -1);
  for (std::size_t p = 0; p < case_->parts.size(); ++p) {
    const auto& candidates = case_->parts[p].candidates;
    for (std::size_t k = 0; k < candidates.size(); ++k) {
      for (const int pieces : pack_quantities(candidates[k], 1)) {
        const Need need{.part = static_cast<int>(p), .candidate = static_cast<int>(k), .pieces = pieces};
        const auto kind = kind_of(enlarged(*case_, {need}, case_->downtime.per_day.base()));
        if (!kind) continue;
        int& least = small_orders_[p];
        if (least < 0 || order(*kind).cost.total < order(least).cost.total) least = *kind;
      }
    }
  }
}

std::vector<int> OrderBook::keep_only(std::vector<bool> used) {
  used.resize(kinds_.size(), false);
  for (const int kind : small_orders_) {
    if (kind >= 0) used[static_cast<std::size_t>(kind)] = true;
  }
  std::vector<int> renumbered(kinds_.size(), -1);
  std::vector<Kind> kept;
  for (std::size_t k = 0; k < kinds_.size(); ++k) {
    if (!used[k]) continue;
    renumbered[k] = static_cast<int>(kept.size());
    kept.push_back(std::move(kinds_[k]));
  }
  kinds_ = std::move(kept);
  for (int& kind : small_orders_) {
    if (kind >= 0) kind = renumbered[static_cast<std::size_t>(kind)];
  }
  return renumbered;
}

}  // namespace mendworth
