#pragma once

#include <memory>
#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// An option with what it amounts to, so that other prices can be put on it without running it again.
struct Course {
  Option option;
  std::vector<double> amounts;  ///< by item, discounted, over all futures
  /// What single futures amount to, where an option is not the same in all of them: the items of future f are those
  /// from ends[f - 1] up to ends[f].
  struct Ledger {
    std::vector<int> items;
    std::vector<double> amounts;
    std::vector<std::size_t> ends;
    /// Mean amounts of the first `size` items.
    [[nodiscard]] std::vector<double> means(std::size_t size) const;
  } ledger;

  /// Cost at these unit costs; items beyond the option's own count as none.
  [[nodiscard]] double cost(const std::vector<double>& unit) const;
  /// The same in each future of the ledger.
  [[nodiscard]] std::vector<double> costs(const std::vector<double>& unit) const;
};

/// Repairs and replacements that are best somewhere, in one book of orders. Entering more leaves what is there as it is,
/// for orders are the last items.
struct Courses {
  OrderBook book;
  int standing_orders = 0;       ///< those of the book that belong to no course
  std::vector<int> most_pieces;  ///< of each part in an order
  std::vector<std::shared_ptr<const Course>> list;

  /// The repairs and priced replacements of a contest.
  [[nodiscard]] static Courses of(const Contest& contest, const WeighSettings& settings);
  /// With the best repairs that another contest chose, of the same device with other numbers. What they amount to is
  /// counted as the case is.
  [[nodiscard]] Courses with(const Contest& other, const Contest& as_is, const WeighSettings& settings) const;
  /// Whether a course does the same, its order being of these items.
  [[nodiscard]] bool knows(const Option& option, const std::vector<OrderItem>& order) const;
  /// The book at the prices of `c`, its later orders chosen anew; absent where others can be had than in the case as
  /// it is.
  [[nodiscard]] std::optional<OrderBook> book_at(const Case& c) const;
};

}  // namespace mendworth
