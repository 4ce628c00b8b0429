#include "model/plan.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>

namespace mendworth {
namespace {

using State = Position::State;

constexpr std::array families = {Family::failed_only, Family::failed_and_spare, Family::failed_and_mates,
                                 Family::every_original};
constexpr std::array later_limits = {0, 1, 2, no_limit};
constexpr int most_quantities = 8;  // first quantities tried for one part
constexpr int most_variants = 48;   // purchases tried for one family

/// What a first order brings of each part.
using Variant = std::vector<Need>;

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

/// Quantities to try for one part. The bare family takes what a supplier's packs force on it and no more, so that
/// the family with a spare differs from it in the decision to keep one.
std::vector<int> quantities(const Case& c, Family family, int part, int candidate, int need) {
  const auto& who = c.parts[static_cast<std::size_t>(part)].candidates[static_cast<std::size_t>(candidate)];
  if (family == Family::failed_only) return pack_quantities(who, need);
  if (family == Family::failed_and_spare) {
    auto all = quantities_of_interest(c, part, candidate, need + 1, most_quantities);
    return all;
  }
  return quantities_of_interest(c, part, candidate, need, most_quantities);
}

/// First orders worth trying. One part: every candidate with every quantity. Several parts: every combination of
/// candidates at the first quantity of each part, and each part at each other quantity with the rest at their
/// first; a full product would grow without telling more.
std::vector<Variant> first_orders(const Case& c, Family family, const std::vector<int>& pieces,
                                  bool& limited) {
  std::vector<int> parts;
  for (int p = 0; p < static_cast<int>(pieces.size()); ++p) {
    if (pieces[static_cast<std::size_t>(p)] > 0) parts.push_back(p);
  }
  std::vector<Variant> variants;
  std::vector<int> choice(parts.size(), 0);
  while (true) {
    Variant plain;
    std::vector<std::vector<int>> options;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const int p = parts[i];
      options.push_back(quantities(c, family, p, choice[i], pieces[static_cast<std::size_t>(p)]));
      if (options.back().empty()) break;
      plain.push_back({.part = p, .candidate = choice[i], .pieces = options.back().front()});
    }
    if (plain.size() == parts.size()) {
      variants.push_back(plain);
      for (std::size_t i = 0; i < parts.size(); ++i) {
        for (std::size_t q = 1; q < options[i].size(); ++q) {
          Variant other = plain;
          other[i].pieces = options[i][q];
          variants.push_back(std::move(other));
        }
      }
    }
    std::size_t i = 0;
    for (; i < parts.size(); ++i) {
      const auto count = c.parts[static_cast<std::size_t>(parts[i])].candidates.size();
      if (static_cast<std::size_t>(++choice[i]) < count) break;
      choice[i] = 0;
    }
    if (i == parts.size()) break;
    if (static_cast<int>(variants.size()) >= most_variants) {
      limited = true;
      break;
    }
  }
  if (static_cast<int>(variants.size()) > most_variants) {
    limited = true;
    variants.resize(most_variants);
  }
  return variants;
}

/// Later orders of a part from the smallest packs or from the largest ones.
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
        kind = book.kind_of({need}).value_or(-1);
      }
      kinds[k].push_back(kind);
    }
  }
  return kinds;
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
    reorders.push_back(std::move(by_part));
  }

  std::vector<std::vector<Option>> groups;
  std::vector<std::vector<int>> seen;
  bool limited = false;
  for (const Family family : families) {
    const auto now = renewed_now(c, positions, family);
    // The same positions again under a wider name would be the same plan twice.
    if (family == Family::failed_and_mates || family == Family::every_original) {
      if (std::find(seen.begin(), seen.end(), now) != seen.end()) continue;
    }
    seen.push_back(now);
    const auto pieces = pieces_by_part(c, positions, now);
    const auto variants = first_orders(c, family, pieces, limited);
    for (const int limit : later_limits) {
      // Whoever must keep a device goes on repairing it.
      if (c.device.must_keep && limit != no_limit) continue;
      std::vector<Option> group;
      for (const auto& variant : variants) {
        const auto first = book.kind_of(variant);
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
          for (const auto& need : variant) {
            auto& supply = option.plan.supplies[static_cast<std::size_t>(need.part)];
            supply.candidate = need.candidate;
            supply.first_pieces = need.pieces;
          }
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
  return groups;
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
