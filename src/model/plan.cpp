#include "model/plan.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <optional>
#include <stdexcept>
#include <utility>

#include "model/exact_order.hpp"
#include "model/hedge.hpp"
#include "model/trial_order.hpp"

namespace mendworth {
namespace {

using State = Position::State;

constexpr std::array families = {Family::failed_only, Family::failed_and_spare, Family::failed_and_mates,
                                 Family::every_original};
constexpr std::array later_limits = {0, 1, 2, no_limit};
constexpr int most_quantities = 9;          // quantities tried for the only part that is ordered
constexpr int most_quantities_of_each = 6;  // for each of several parts
constexpr int most_purchases_of_one = 12;   // of one candidate of the only part, cheaper larger ones included
constexpr std::size_t most_cheaper = 4;     // larger quantities that cost less in all, the cheapest ones
constexpr int most_variants = 48;           // purchases tried for one family
constexpr int most_hedged = 24;             // purchases with a second candidate beside them, for one family

/// A first order, and what it brings of second candidates for the case that the first does not fit.
struct Purchase {
  Variant first, hedges;
};

/// What is to be ordered of a variant.
Variant to_order(const Variant& variant) {
  Variant order;
  for (const auto& need : variant) {
    if (need.pieces > 0) order.push_back(need);
  }
  return order;
}

/// `enlarged` for what is to be ordered; parts that are not ordered stay so.
Variant enlarged_order(const Case& c, const Variant& variant, double day_cost) {
  Variant order = to_order(variant);
  if (order.empty()) return variant;
  order = enlarged(c, std::move(order), day_cost);
  Variant whole = variant;
  auto next = order.begin();
  for (auto& need : whole) {
    if (need.pieces > 0) need = *next++;
  }
  return whole;
}

std::vector<int> renewed_now(const Case& c, const std::vector<Position>& positions, Family family) {
  std::vector<bool> part_failed(c.parts.size(), false);
  for (const auto& p : positions) {
    if (p.state == State::failed) part_failed[static_cast<std::size_t>(p.part)] = true;
  }
  std::vector<int> now;
  for (int i = 0; i < static_cast<int>(positions.size()); ++i) {
    const auto& p = positions[static_cast<std::size_t>(i)];
    const bool mate = p.state == State::original &&
                      (family == Family::every_original ||
                       (family == Family::failed_and_mates && part_failed[static_cast<std::size_t>(p.part)]));
    if (p.state == State::failed || mate) now.push_back(i);
  }
  return now;
}

std::vector<int> pieces_by_part(const Case& c, const std::vector<Position>& positions,
                                const std::vector<int>& now) {
  std::vector<int> pieces(c.parts.size(), 0);
  for (const int i : now) ++pieces[static_cast<std::size_t>(positions[static_cast<std::size_t>(i)].part)];
  return pieces;
}

bool same(const Variant& a, const Variant& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Need& x, const Need& y) {
    return x.part == y.part && x.candidate == y.candidate && x.pieces == y.pieces;
  });
}

/// Quantities to try for one part, whatever they cost. The bare family takes what a supplier's packs force on it and
/// no more, so that the family with a spare differs from it in the decision to keep one. What the drawer has is not
/// ordered: where it has enough, no pieces come first, and more spares only in the wider families.
std::vector<int> quantities(const Case& c, Family family, const Need& need, int limit) {
  const auto& who =
      c.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
  const int wanted = missing(c, need);
  if (wanted == 0) {
    if (family == Family::failed_only) return {0};
    auto more = stocking_quantities(who, 1, 0, limit - 1);
    more.insert(more.begin(), 0);
    return more;
  }
  if (family == Family::failed_only) return pack_quantities(who, wanted);
  return stocking_quantities(who, wanted, family == Family::failed_and_spare ? 1 : 0, limit);
}

/// Purchases of given candidates, `needs` being what is used at once: every part at its first quantity, and each part
/// at each other quantity with the rest at their first; a full product would grow without telling more. Beside each
/// purchase stands the larger one that costs less in all, if there is one: spares that come with a saving belong to
/// every family. The first buys least; where the list is cut short, no purchase loses the cheaper one beside it.
std::vector<Variant> purchases_of(const Case& c, Family family, const Variant& needs) {
  const double day_cost = c.downtime.per_day.base();
  const bool single = needs.size() == 1;
  Variant plain;
  std::vector<std::vector<int>> options;
  for (const auto& need : needs) {
    options.push_back(quantities(c, family, need, single ? most_quantities : most_quantities_of_each));
    if (options.back().empty()) return {};
    plain.push_back({.part = need.part, .candidate = need.candidate, .pieces = options.back().front()});
  }

  std::vector<Variant> purchases;
  const auto add = [&](const Variant& variant) {
    if (single && static_cast<int>(purchases.size()) == most_purchases_of_one) return;
    const auto is_it = [&](const Variant& known) { return same(known, variant); };
    if (std::none_of(purchases.begin(), purchases.end(), is_it)) purchases.push_back(variant);
  };
  add(plain);
  add(enlarged_order(c, plain, day_cost));
  std::vector<Variant> others;
  for (std::size_t i = 0; i < plain.size(); ++i) {
    Variant other = plain;
    for (std::size_t q = 1; q < options[i].size(); ++q) {
      other[i].pieces = options[i][q];
      others.push_back(other);
    }
    const Variant ordered = to_order(plain);
    if (ordered.size() > most_lines_divided_anew) continue;  // the largest saving, above, must do
    if (plain[i].pieces == 0) continue;
    const auto line = to_order({plain.begin(), plain.begin() + static_cast<std::ptrdiff_t>(i)}).size();
    auto cheaper = cheaper_in_all(c, ordered, line, day_cost);
    std::reverse(cheaper.begin(), cheaper.end());
    if (cheaper.size() > most_cheaper) cheaper.resize(most_cheaper);
    for (const int pieces : cheaper) {
      other[i].pieces = pieces;
      add(other);
    }
  }
  for (const auto& other : others) {
    // One more than can be used shows that the list is cut short.
    if (static_cast<int>(purchases.size()) > most_variants) break;
    add(enlarged_order(c, other, day_cost));
    add(other);
  }
  return purchases;
}

/// Every combination of one candidate for each part that needs pieces, as far as most_variants.
std::vector<Variant> candidate_choices(const Case& c, const std::vector<int>& pieces, bool& limited) {
  Variant needs;
  for (int p = 0; p < static_cast<int>(pieces.size()); ++p) {
    const int wanted = pieces[static_cast<std::size_t>(p)];
    if (wanted > 0) needs.push_back({.part = p, .candidate = 0, .pieces = wanted});
  }
  std::vector<Variant> choices;
  while (true) {
    choices.push_back(needs);
    std::size_t i = 0;
    for (; i < needs.size(); ++i) {
      const auto count = c.parts[static_cast<std::size_t>(needs[i].part)].candidates.size();
      if (static_cast<std::size_t>(++needs[i].candidate) < count) break;
      needs[i].candidate = 0;
    }
    if (i == needs.size()) return choices;
    if (static_cast<int>(choices.size()) == most_variants) {
      limited = true;
      return choices;
    }
  }
}

/// Purchases with hedges beside them: the first purchases of every choice with every hedge before the second ones, up
/// to most_hedged. A larger order that costs less in all takes the place of the smaller one.
std::vector<Purchase> hedged(const Case& c, const std::vector<std::vector<Variant>>& by_choice,
                             const std::vector<int>& pieces, bool& limited) {
  std::vector<Purchase> found;
  std::vector<std::vector<Variant>> hedges;
  std::size_t longest = 0;
  for (const auto& purchases : by_choice) {
    hedges.push_back(purchases.empty() ? std::vector<Variant>{} : hedges_of(c, purchases.front(), pieces));
    if (!hedges.back().empty()) longest = std::max(longest, purchases.size());
  }
  for (std::size_t rank = 0; rank < longest; ++rank) {
    for (std::size_t k = 0; k < by_choice.size(); ++k) {
      if (rank >= by_choice[k].size()) continue;
      for (const auto& beside : hedges[k]) {
        const auto& first = by_choice[k][rank];
        Variant whole = first;
        whole.insert(whole.end(), beside.begin(), beside.end());
        whole = enlarged_order(c, whole, c.downtime.per_day.base());
        const auto split = whole.begin() + static_cast<std::ptrdiff_t>(first.size());
        Purchase purchase{.first = {whole.begin(), split}, .hedges = {split, whole.end()}};
        const auto is_it = [&](const Purchase& known) {
          return same(known.first, purchase.first) && same(known.hedges, purchase.hedges);
        };
        if (std::any_of(found.begin(), found.end(), is_it)) continue;
        if (static_cast<int>(found.size()) == most_hedged) {
          limited = true;
          return found;
        }
        found.push_back(std::move(purchase));
      }
    }
  }
  return found;
}

/// First orders worth trying: the purchases of every choice of candidates. Where there are too many, each choice gives
/// up its last ones in turn, so that no candidate is left out for another's tenth spare. Those with hedges come last.
std::vector<Purchase> first_orders(const Case& c, Family family, const std::vector<int>& pieces,
                                   bool& limited, bool& hedges_limited) {
  std::vector<std::vector<Variant>> by_choice;
  std::size_t longest = 0;
  for (const auto& needs : candidate_choices(c, pieces, limited)) {
    by_choice.push_back(purchases_of(c, family, needs));
    longest = std::max(longest, by_choice.back().size());
  }
  std::vector<std::size_t> taken(by_choice.size(), 0);
  int total = 0;
  for (std::size_t rank = 0; rank < longest; ++rank) {
    for (std::size_t k = 0; k < by_choice.size(); ++k) {
      if (rank >= by_choice[k].size()) continue;
      if (total == most_variants) {
        limited = true;
        continue;
      }
      ++taken[k];
      ++total;
    }
  }
  const auto total_pieces = [](const Variant& variant) {
    int sum = 0;
    for (const auto& need : variant) sum += need.pieces;
    return sum;
  };
  std::vector<Purchase> variants;
  for (std::size_t k = 0; k < by_choice.size(); ++k) {
    auto& purchases = by_choice[k];
    purchases.resize(taken[k]);
    std::stable_sort(purchases.begin(), purchases.end(),
                     [&](const Variant& a, const Variant& b) { return total_pieces(a) < total_pieces(b); });
    for (const auto& purchase : purchases) variants.push_back({.first = purchase, .hedges = {}});
  }
  auto with_hedges = hedged(c, by_choice, pieces, hedges_limited);
  std::move(with_hedges.begin(), with_hedges.end(), std::back_inserter(variants));
  return variants;
}

/// Later orders of a part from the smallest packs or from the largest ones; more than that where it costs less in all.
std::vector<std::vector<int>> reorder_kinds(const Case& c, OrderBook& book, int part, int most, bool large) {
  const auto& candidates = c.parts[static_cast<std::size_t>(part)].candidates;
  std::vector<std::vector<int>> kinds(candidates.size());
  for (std::size_t k = 0; k < candidates.size(); ++k) {
    for (int n = 1; n <= most; ++n) {
      const auto packs = pack_quantities(candidates[k], n);
      int kind = -1;
      if (!packs.empty()) {
        const Need need{
            .part = part, .candidate = static_cast<int>(k), .pieces = large ? packs.back() : packs.front()};
        kind = book.kind_of(enlarged(c, {need}, c.downtime.per_day.base())).value_or(-1);
      }
      kinds[k].push_back(kind);
    }
  }
  return kinds;
}

/// The order in which each part's candidates are tried.
void set_trials(const Case& c, const OrderBook& book, const std::vector<int>& pieces, RepairPlan& plan) {
  for (std::size_t p = 0; p < plan.supplies.size(); ++p) {
    auto& supply = plan.supplies[p];
    std::vector<int> orders;
    for (const auto& kinds : supply.reorders) {
      const auto wanted = static_cast<std::size_t>(std::max(pieces[p], 1));
      orders.push_back(wanted <= kinds.size() ? kinds[wanted - 1] : -1);
    }
    supply.trial =
        trial_order(c, book, static_cast<int>(p), supply.candidate, supply.hedge_candidate, orders);
  }
}

bool packs_differ(const Case& c) {
  for (const auto& part : c.parts) {
    for (const auto& candidate : part.candidates) {
      if (pack_quantities(candidate, 1).size() > 1) return true;
    }
  }
  return false;
}

}  // namespace

std::vector<Position> positions_of(const Case& c) {
  std::vector<Position> positions;
  for (int g = 0; g < static_cast<int>(c.positions.size()); ++g) {
    const auto& group = c.positions[static_cast<std::size_t>(g)];
    for (int i = 0; i < group.count; ++i) {
      const State state = i < group.failed                   ? State::failed
                          : i < group.failed + group.renewed ? State::renewed
                                                             : State::original;
      positions.push_back({.group = g, .part = group.part, .state = state});
    }
  }
  return positions;
}

std::vector<std::vector<Option>> repair_options(const Case& c, OrderBook& book,
                                                std::vector<std::string>& notes) {
  for (const auto& part : c.parts) {
    if (part.candidates.empty())
      throw std::invalid_argument(fmt::format("the part '{}' has no candidates", part.name));
  }
  const auto positions = positions_of(c);
  std::vector<int> most(c.parts.size(), 0);
  for (const auto& p : positions) ++most[static_cast<std::size_t>(p.part)];

  book.enter_small_orders();
  // reorders[policy][part]
  std::vector<std::vector<std::vector<std::vector<int>>>> reorders;
  for (const bool large : {false, true}) {
    if (large && !packs_differ(c)) break;
    std::vector<std::vector<std::vector<int>>> by_part;
    for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
      by_part.push_back(reorder_kinds(c, book, p, most[static_cast<std::size_t>(p)], large));
    }
    if (std::find(reorders.begin(), reorders.end(), by_part) == reorders.end()) {
      reorders.push_back(std::move(by_part));
    }
  }

  std::vector<std::vector<Option>> groups;
  std::vector<std::vector<int>> seen;
  bool limited = false, hedges_limited = false;
  for (const Family family : families) {
    const auto now = renewed_now(c, positions, family);
    // The same positions again under a wider name would be the same plan twice.
    if (family == Family::failed_and_mates || family == Family::every_original) {
      if (std::find(seen.begin(), seen.end(), now) != seen.end()) continue;
    }
    seen.push_back(now);
    const auto pieces = pieces_by_part(c, positions, now);
    const auto variants = first_orders(c, family, pieces, limited, hedges_limited);
    for (const int limit : later_limits) {
      // Whoever must keep a device goes on repairing it.
      if (c.device.must_keep && limit != no_limit) continue;
      std::vector<Option> group;
      for (const auto& variant : variants) {
        Variant order = to_order(variant.first);
        order.insert(order.end(), variant.hedges.begin(), variant.hedges.end());
        // Where all is in the drawer, keeping spares without buying any is the plan without a spare.
        if (order.empty() && family == Family::failed_and_spare) continue;
        const auto first = order.empty() ? std::optional<int>(-1) : book.kind_of(order);
        if (!first) continue;
        for (const auto& policy : reorders) {
          Option option;
          option.plan.family = family;
          option.plan.renew_now = now;
          option.plan.mates_later = family == Family::failed_and_mates || family == Family::every_original;
          option.plan.later_limit = limit;
          option.plan.first_order = *first;
          for (std::size_t p = 0; p < c.parts.size(); ++p)
            option.plan.supplies.push_back({.reorders = policy[p]});
          for (const auto& need : variant.first) {
            auto& supply = option.plan.supplies[static_cast<std::size_t>(need.part)];
            supply.candidate = need.candidate;
            supply.first_pieces = need.pieces;
          }
          for (const auto& need : variant.hedges) {
            auto& supply = option.plan.supplies[static_cast<std::size_t>(need.part)];
            supply.hedge_candidate = need.candidate;
            supply.hedge_pieces = need.pieces;
          }
          set_trials(c, book, pieces, option.plan);
          group.push_back(std::move(option));
        }
      }
      if (!group.empty()) groups.push_back(std::move(group));
    }
    if (groups.empty() && family == Family::failed_only) {
      notes.push_back("The failed parts cannot be had: no supplier sells as many as are needed at once.");
      return groups;
    }
  }
  if (limited) {
    notes.push_back(fmt::format("Only the first {} purchases of a plan were compared; more were possible.",
                                most_variants));
  }
  if (hedges_limited) {
    notes.push_back(
        fmt::format("Only the first {} ways to order a second candidate beside the first were compared; more "
                    "were possible.",
                    most_hedged));
  }
  return groups;
}

void forget_unused_orders(OrderBook& book, std::vector<Option>& options) {
  const auto for_each_order = [&options](auto&& visit) {
    for (auto& option : options) {
      if (option.kind != OptionKind::repair) continue;
      if (option.plan.first_order >= 0) visit(option.plan.first_order);
      for (auto& supply : option.plan.supplies) {
        for (auto& by_pieces : supply.reorders) {
          for (int& kind : by_pieces) {
            if (kind >= 0) visit(kind);
          }
        }
      }
    }
  };
  std::vector<bool> used(static_cast<std::size_t>(book.size()), false);
  for_each_order([&used](int& kind) { used[static_cast<std::size_t>(kind)] = true; });
  const auto renumbered = book.keep_only(std::move(used));
  for_each_order([&renumbered](int& kind) { kind = renumbered[static_cast<std::size_t>(kind)]; });
}

std::vector<Option> licensed_options(const Case& c) {
  std::vector<Option> options;
  if (!c.licensed_repair) return options;
  const auto positions = positions_of(c);
  for (const int limit : later_limits) {
    if (c.device.must_keep && limit != no_limit) continue;
    Option option;
    option.kind = OptionKind::licensed_repair;
    option.plan.renew_now = renewed_now(c, positions, Family::failed_only);
    option.plan.later_limit = limit;
    option.plan.supplies.resize(c.parts.size());
    options.push_back(std::move(option));
  }
  return options;
}

const char* name_of(Family family) noexcept {
  switch (family) {
    case Family::failed_only: return "failed only";
    case Family::failed_and_spare: return "failed only, keep spares";
    case Family::failed_and_mates: return "failed and mates";
    case Family::every_original: return "every original";
  }
  return "";
}

std::string option_name(const Case& c, const Option& option) {
  switch (option.kind) {
    case OptionKind::leave: return "leave it as it is";
    case OptionKind::claim: return "claim on the guarantee";
    case OptionKind::replacement:
      return fmt::format("replace: {}", c.replacements[static_cast<std::size_t>(option.replacement)].name);
    case OptionKind::repair:
    case OptionKind::licensed_repair: break;
  }
  const char* what = option.kind == OptionKind::repair ? name_of(option.plan.family) : "licensed repair";
  switch (option.plan.later_limit) {
    case no_limit: return fmt::format("{}; any later failure too", what);
    case 0: return fmt::format("{}; no later repair", what);
    case 1: return fmt::format("{}; 1 later repair", what);
    default: return fmt::format("{}; {} later repairs", what, option.plan.later_limit);
  }
}

}  // namespace mendworth
