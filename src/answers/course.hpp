#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <vector>

#include "answers/contest.hpp"

namespace mendworth {

/// Errors of the distance of two courses over the same futures beyond which the dearer one is not looked at with care.
inline constexpr double surely_dearer = 3.5;

/// An option with what it amounts to in the case as it is, so that other prices can be put on it without running it
/// again.
class Course {
 public:
  /// Its order is one of `book`, whose orders are the last items. `known` is what is counted already, by the number of
  /// futures. `as_is` must outlive this.
  Course(const Contest& as_is, Option option, OrderBook book, std::uint64_t seed,
         std::map<int, Amounts> known = {});

  [[nodiscard]] const Option& option() const noexcept { return option_; }
  [[nodiscard]] bool is_replacement() const noexcept { return option_.kind == OptionKind::replacement; }
  /// In the first so many futures; counted when it is asked for, the same whatever was asked before. Threads may ask at
  /// the same time.
  [[nodiscard]] const Amounts& amounts(int futures) const;

 private:
  [[nodiscard]] const Amounts& counted(int futures) const;

  const Contest& as_is_;
  Option option_;
  OrderBook book_;
  Items items_;
  std::uint64_t seed_;
  mutable std::mutex counting_;
  mutable std::map<int, Amounts> known_;
};

/// Repairs and replacements that are best somewhere, in one book of orders. Entering more leaves what is there as it is,
/// for orders are the last items.
struct Courses {
  OrderBook book;
  int standing_orders = 0;       ///< those of the book that belong to no course
  std::vector<int> most_pieces;  ///< of each part in an order
  std::vector<std::shared_ptr<const Course>> list;

  /// The repairs and priced replacements of a contest, which must outlive them; its amounts are kept.
  [[nodiscard]] static Courses of(const Contest& contest, std::uint64_t seed);
  /// With the best repairs that another contest chose, of the same device with other numbers. What they amount to is
  /// counted as the case is.
  [[nodiscard]] Courses with(const Contest& other, const Contest& as_is, std::uint64_t seed) const;
  /// Whether a course does the same, its order being of these items.
  [[nodiscard]] bool knows(const Option& option, const std::vector<OrderItem>& order) const;
  /// The book at the prices of `c`, its later orders chosen anew; absent where others can be had than in the case as
  /// it is.
  [[nodiscard]] std::optional<OrderBook> book_at(const Case& c) const;
};

}  // namespace mendworth
