#pragma once

#include <optional>
#include <vector>

#include "model/purchase.hpp"

namespace mendworth {

/// Every kind of order that some plan may place, each once. A kind is a set of pieces; who supplies them is chosen
/// for the least cost, at the base prices or at any others.
class OrderBook {
 public:
  explicit OrderBook(const Case& c) : case_(&c) {}

  /// The number of the kind that brings exactly these pieces; absent if nobody can supply them.
  [[nodiscard]] std::optional<int> kind_of(const std::vector<Need>& needs);

  /// The order that fetches one piece of a part when a spare would have saved it; -1: none.
  [[nodiscard]] int small_order(int part) const {
    return part < static_cast<int>(small_orders_.size()) ? small_orders_[static_cast<std::size_t>(part)] : -1;
  }
  /// Enters the cheapest order of at least one piece for every part.
  void enter_small_orders();

  /// Drops the kinds that are not `used` (one flag for each kind); kinds of small orders stay in any case. Returns
  /// the new number of every old kind; -1: dropped. The order of those kept stays.
  std::vector<int> keep_only(std::vector<bool> used);

  [[nodiscard]] int size() const noexcept { return static_cast<int>(kinds_.size()); }
  [[nodiscard]] const std::vector<Need>& needs(int kind) const { return at(kind).needs; }
  [[nodiscard]] const Order& order(int kind) const { return at(kind).order; }

 private:
  struct Kind {
    std::vector<Need> needs;
    Order order;
  };
  [[nodiscard]] const Kind& at(int kind) const { return kinds_[static_cast<std::size_t>(kind)]; }

  const Case* case_;
  std::vector<Kind> kinds_;
  std::vector<int> small_orders_;
};

}  // namespace mendworth
