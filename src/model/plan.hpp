#pragma once

#include <optional>
#include <vector>

#include "mendworth/case.hpp"
#include "mendworth/option_kind.hpp"
#include "model/order_book.hpp"
#include "model/stopping_rule.hpp"

/// Courses of action, as data. A plan says what is done; what then happens is up to futures.
namespace mendworth {

/// A place on the device, expanded from its group.
struct Position {
  int group = 0;
  int part = 0;
  enum class State { failed, original, renewed } state = State::original;
};

[[nodiscard]] std::vector<Position> positions_of(const Case& c);

/// What a plan renews now.
enum class Family {
  failed_only,
  failed_and_worth,  ///< and those groups of mates that are worth it
  failed_and_mates,  ///< and all originals of the parts that failed
  every_original
};

/// How a repair plan gets pieces for one part.
struct Supply {
  int candidate = 0;     ///< tried first
  int first_pieces = 0;  ///< in the first order; 0 where nothing is needed now or the drawer has it all
  /// Tried next if the first does not fit; its pieces come with the first order. -1: none.
  int hedge_candidate = -1;
  int hedge_pieces = 0;  ///< in the first order
  std::vector<int>
      trial{};  ///< candidates in the order in which they are tried, until the repair is given up
};

struct RepairPlan {
  Family family = Family::failed_only;
  std::vector<int> renew_now;  ///< positions
  bool mates_later = false;    ///< a later failure renews the part's remaining originals too
  std::optional<StoppingRule>
      spares_rule{};             ///< that its spares were bought for; absent: the best without any
  bool returns_only = false;     ///< later visits are for pieces renewed now alone, as under a warranty
  int first_order = -1;          ///< kind; -1: nothing is ordered, all is in the drawer
  std::vector<Supply> supplies;  ///< per part
  StoppingRule rule;
};

/// One option to run: what kind, and the data that the kind needs.
struct Option {
  OptionKind kind = OptionKind::repair;
  int replacement = -1;  ///< kind replacement: which
  RepairPlan plan{};     ///< kinds repair and licensed_repair (orders unused there)
};

/// Position groups with working originals that may be renewed now beside the failed positions.
[[nodiscard]] std::vector<int> groups_with_originals(const Case& c);
/// Failed positions, and the originals of the given groups.
[[nodiscard]] std::vector<int> renewed_with(const std::vector<Position>& positions,
                                            const std::vector<int>& groups);
/// Groups of originals whose part has failed somewhere.
[[nodiscard]] std::vector<int> mates_of_failed(const Case& c);
/// How many of each part the given positions are.
[[nodiscard]] std::vector<int> pieces_by_part(const Case& c, const std::vector<Position>& positions,
                                              const std::vector<int>& chosen);

}  // namespace mendworth
