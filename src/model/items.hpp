#pragma once

#include <vector>

/// What a future is counted in. A future is physical first: it counts things that happen (an opening, a renewed
/// position, a device bought), discounted to now. Money comes in only through the unit cost of each item, so the
/// same futures can be priced again without being run again.
namespace mendworth {

/// When and why something happens, which decides under what heading its cost is shown.
enum class Phase {
  first,  ///< the visit now, if all goes well
  luck,   ///< bad luck at the visit now
  later,  ///< later failures and what follows from them
};
inline constexpr int phases = 3;

/// Cost of one unit of an item, in the case's currency.
struct UnitCost {
  double money = 0;
  double labour = 0;
  double downtime = 0;
  [[nodiscard]] double total() const noexcept { return money + labour + downtime; }
};

/// Numbers the items of a case. Flat, so that tallies are plain arrays.
class ItemLayout {
 public:
  ItemLayout() = default;
  ItemLayout(int groups, int parts, int replacements);

  // Happenings of a visit.
  [[nodiscard]] int case_work() const noexcept { return 0; }
  [[nodiscard]] int visit(Phase p) const noexcept { return 1 + as_int(p); }
  [[nodiscard]] int mend(Phase p) const noexcept { return 4 + as_int(p); }
  [[nodiscard]] int second_attempt(Phase p) const noexcept { return 7 + as_int(p); }
  [[nodiscard]] int dry_fit(Phase p) const noexcept { return 10 + as_int(p); }
  [[nodiscard]] int licensed_visit(Phase p) const noexcept { return 13 + as_int(p); }
  // Flows and single sums of the device itself. Amounts are discounted years or discounted counts.
  [[nodiscard]] int burden() const noexcept { return 16; }
  [[nodiscard]] int scrap() const noexcept { return 17; }
  [[nodiscard]] int resale() const noexcept { return 18; }
  [[nodiscard]] int keepsake() const noexcept { return 19; }
  // Per position group: one position renewed, in units of its first-time minutes.
  [[nodiscard]] int work(int group, Phase p) const noexcept { return works_ + phases * group + as_int(p); }
  // Per part.
  [[nodiscard]] int spare_used_elsewhere(int part) const noexcept { return spares_ + per_part * part; }
  [[nodiscard]] int spare_left(int part) const noexcept { return spares_ + per_part * part + 1; }
  /// What pieces that this device takes from the drawer would have done there, as costs: the same two, foregone.
  [[nodiscard]] int drawn_use(int part) const noexcept { return spares_ + per_part * part + 2; }
  [[nodiscard]] int drawn_left(int part) const noexcept { return spares_ + per_part * part + 3; }
  // Per replacement.
  [[nodiscard]] int device(int replacement, Phase p) const noexcept {
    return devices_ + per_device * replacement + as_int(p);
  }
  [[nodiscard]] int benefit(int replacement) const noexcept {
    return devices_ + per_device * replacement + 3;
  }
  [[nodiscard]] int new_resale(int replacement) const noexcept {
    return devices_ + per_device * replacement + 4;
  }
  /// Part of its life that the last device has before it at the horizon, discounted.
  [[nodiscard]] int unused_life(int replacement) const noexcept {
    return devices_ + per_device * replacement + 5;
  }
  // Per kind of order, numbered by the order book.
  [[nodiscard]] int order(int kind, Phase p) const noexcept { return orders_ + phases * kind + as_int(p); }

  [[nodiscard]] int size(int order_kinds) const noexcept { return orders_ + phases * order_kinds; }
  [[nodiscard]] int first_order_item() const noexcept { return orders_; }

  [[nodiscard]] int parts() const noexcept { return (devices_ - spares_) / per_part; }
  /// The part of an item that belongs to one.
  [[nodiscard]] int part_of(int item) const noexcept { return (item - spares_) / per_part; }

 private:
  static constexpr int per_part = 4;
  static constexpr int per_device = 6;
  [[nodiscard]] static int as_int(Phase p) noexcept { return static_cast<int>(p); }
  int works_ = 20;
  int spares_ = 20;
  int devices_ = 20;
  int orders_ = 20;
};

}  // namespace mendworth
