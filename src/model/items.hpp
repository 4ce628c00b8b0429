#pragma once

#include <array>
#include <vector>

/// What a future is counted in. A future is physical first: it counts things that happen (an opening, a renewed
/// position, a device bought), discounted to now. Money comes in only through the unit cost of each item, so the
/// same futures can be priced again without being run again.
namespace mendworth {

struct Case;

/// When and why something happens, which decides under what heading its cost is shown.
enum class Phase {
  first,  ///< the visit now, if all goes well
  luck,   ///< bad luck at the visit now
  later,  ///< later failures and what follows from them
};
inline constexpr std::size_t phases = 3;

/// One item for each phase.
class ByPhase {
 public:
  [[nodiscard]] int operator[](Phase phase) const noexcept { return ids_[static_cast<std::size_t>(phase)]; }
  [[nodiscard]] const std::array<int, phases>& all() const noexcept { return ids_; }

 private:
  friend class Items;
  std::array<int, phases> ids_{};
};

/// Cost of one unit of an item, in the case's currency.
struct UnitCost {
  double money = 0;
  double labour = 0;
  double downtime = 0;
  [[nodiscard]] double total() const noexcept { return money + labour + downtime; }
};

/// Under what an item's money and own time are shown. Downtime has a heading of its own.
enum class Heading {
  order,  ///< of the first order: split into goods and shipping
  parts,
  labour,
  risk,
  later_visits,
  next_device,
  purchase,
  burden,
  keepsake,
  leftovers,
  resale,
  benefit
};

/// The items of a case, each with its number.
class Items {
 public:
  Items() = default;
  Items(const Case& c, int order_kinds);

  int case_work = 0;   ///< once: diagnosis, finding parts
  ByPhase visit;       ///< an opening: consumables, days on the bench
  ByPhase visit_work;  ///< its minutes, in units of those of the first time
  ByPhase mend;        ///< mendable damage
  ByPhase second_attempt;
  ByPhase dry_fit;  ///< of a piece that does not fit
  ByPhase licensed_visit;
  int burden = 0;  ///< discounted years with the fault
  int scrap = 0, resale = 0, keepsake = 0;
  std::vector<ByPhase> work;  ///< by group: one position renewed, in units of its first-time minutes
  struct OfPart {
    int used_elsewhere = 0, left = 0;   ///< spares
    int drawn_use = 0, drawn_left = 0;  ///< what pieces taken from the drawer would have done there, foregone
  };
  std::vector<OfPart> parts;
  struct OfDevice {
    ByPhase device;  ///< bought
    int benefit = 0, resale = 0;
  };
  std::vector<OfDevice> devices;  ///< by replacement
  std::vector<ByPhase> orders;    ///< by kind, the last items

  [[nodiscard]] int size() const noexcept { return static_cast<int>(headings_.size()); }
  [[nodiscard]] int first_order() const noexcept {
    return orders.empty() ? size() : orders.front()[Phase::first];
  }
  [[nodiscard]] Heading heading(int item) const { return headings_[static_cast<std::size_t>(item)]; }

 private:
  int one(Heading heading);
  ByPhase each(Heading first, Heading luck = Heading::risk, Heading later = Heading::later_visits);
  std::vector<Heading> headings_;
};

}  // namespace mendworth
