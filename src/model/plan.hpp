#pragma once

#include <limits>
#include <string>
#include <vector>

#include "mendworth/weigh.hpp"
#include "model/order_book.hpp"

/// Courses of action, as data. A plan says what is done; what then happens is up to futures.
namespace mendworth {

inline constexpr int no_limit = std::numeric_limits<int>::max();

/// A place on the device, expanded from its group.
struct Position {
  int group = 0;
  int part = 0;
  enum class State { failed, original, renewed } state = State::original;
};

[[nodiscard]] std::vector<Position> positions_of(const Case& c);

enum class Family { failed_only, failed_and_spare, failed_and_mates, every_original };

/// How a repair plan gets pieces for one part.
struct Supply {
  int candidate = 0;     ///< tried first
  int first_pieces = 0;  ///< in the first order; 0 where nothing is needed now or the drawer has it all
  /// Tried next if the first does not fit; its pieces come with the first order. -1: none.
  int hedge_candidate = -1;
  int hedge_pieces = 0;      ///< in the first order
  std::vector<int> trial{};  ///< all candidates in the order in which they are tried
  /// reorders[candidate][n - 1]: kind of order for n pieces later; -1: nobody supplies them.
  std::vector<std::vector<int>> reorders{};
};

struct RepairPlan {
  Family family = Family::failed_only;
  std::vector<int> renew_now;    ///< positions
  bool mates_later = false;      ///< a later failure renews the part's remaining originals too
  int later_limit = no_limit;    ///< later visits before the device is replaced
  bool returns_only = false;     ///< later visits are for pieces renewed now alone, as under a warranty
  int first_order = 0;           ///< kind; -1: nothing is ordered, all is in the drawer
  std::vector<Supply> supplies;  ///< per part
};

/// One option to run: what kind, and the data that the kind needs.
struct Option {
  OptionKind kind = OptionKind::repair;
  int replacement = -1;  ///< kind replacement: which
  RepairPlan plan{};     ///< kinds repair and licensed_repair (orders unused there)
};

/// All repair plans of a case with every purchase worth trying, grouped: each inner list holds the variants of one
/// family and limit, which differ in what is bought only. Orders are entered into `book`. `notes` receives sentences
/// about limits that were hit and parts that cannot be had. Throws std::invalid_argument if a part has no candidates.
[[nodiscard]] std::vector<std::vector<Option>> repair_options(const Case& c, OrderBook& book,
                                                              std::vector<std::string>& notes);

/// Drops the orders that no repair plan of `options` may place, so that they need not be priced in every future, and
/// renumbers those that stay in the book and in the options. The plans themselves do not change.
void forget_unused_orders(OrderBook& book, std::vector<Option>& options);

/// The licensed person's plans, by limit of later visits.
[[nodiscard]] std::vector<Option> licensed_options(const Case& c);

[[nodiscard]] const char* name_of(Family family) noexcept;

/// "failed and mates, up to 1 later visit"
[[nodiscard]] std::string option_name(const Case& c, const Option& option);

}  // namespace mendworth
