#pragma once

#include <optional>
#include <vector>

#include "model/purchase.hpp"

namespace mendworth {

/// Every kind of order that some plan may place, each once, with its suppliers as chosen at the base prices.
class OrderBook {
 public:
  /// Enters for every part the orders of one piece, of two and so on up to `most` of the part, for each candidate:
  /// what a later failure may ask for.
  OrderBook(const Case& c, const std::vector<int>& most);

  /// Enters an order placed now: goods of other jobs share its parcel. Gives its number.
  int enter(Order order);

  /// The order that fetches so many pieces of a candidate later; -1: nobody supplies them.
  [[nodiscard]] int reorder(int part, int candidate, int pieces) const;
  /// The cheapest order of a piece of a part, whichever candidate: what a spare saves elsewhere; -1: none.
  [[nodiscard]] int small_order(int part) const { return small_orders_[static_cast<std::size_t>(part)]; }
  /// Drops the orders placed now from number `size` on.
  void shrink(int size) { kinds_.resize(static_cast<std::size_t>(size)); }

  [[nodiscard]] int size() const noexcept { return static_cast<int>(kinds_.size()); }
  [[nodiscard]] const Order& order(int kind) const { return at(kind).order; }
  /// Pieces of a candidate that an order brings.
  [[nodiscard]] int pieces(int kind, int part, int candidate) const;
  /// What an order costs at the prices of `c`, from the same suppliers; absent if one refuses it.
  [[nodiscard]] std::optional<LandedCost> landed(const Case& c, int kind) const;

 private:
  struct Kind {
    Order order;
    bool now = false;
  };
  [[nodiscard]] const Kind& at(int kind) const { return kinds_[static_cast<std::size_t>(kind)]; }

  std::vector<Kind> kinds_;
  std::vector<std::vector<std::vector<int>>> reorders_;  // by part, candidate, pieces - 1
  std::vector<int> small_orders_;                        // by part
};

}  // namespace mendworth
