#include "model/plan.hpp"

#include <algorithm>

namespace mendworth {

using State = Position::State;

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

std::vector<int> groups_with_originals(const Case& c) {
  std::vector<int> groups;
  for (int g = 0; g < static_cast<int>(c.positions.size()); ++g) {
    const auto& group = c.positions[static_cast<std::size_t>(g)];
    if (group.count > group.failed + group.renewed) groups.push_back(g);
  }
  return groups;
}

std::vector<int> mates_of_failed(const Case& c) {
  std::vector<int> groups;
  for (const int g : groups_with_originals(c)) {
    const int part = c.positions[static_cast<std::size_t>(g)].part;
    if (std::any_of(c.positions.begin(), c.positions.end(),
                    [part](const PositionGroup& other) { return other.part == part && other.failed > 0; })) {
      groups.push_back(g);
    }
  }
  return groups;
}

std::vector<int> renewed_with(const std::vector<Position>& positions, const std::vector<int>& groups) {
  std::vector<int> now;
  for (int i = 0; i < static_cast<int>(positions.size()); ++i) {
    const auto& p = positions[static_cast<std::size_t>(i)];
    const bool chosen =
        p.state == State::original && std::find(groups.begin(), groups.end(), p.group) != groups.end();
    if (p.state == State::failed || chosen) now.push_back(i);
  }
  return now;
}

std::vector<int> pieces_by_part(const Case& c, const std::vector<Position>& positions,
                                const std::vector<int>& chosen) {
  std::vector<int> pieces(c.parts.size(), 0);
  for (const int i : chosen) ++pieces[static_cast<std::size_t>(positions[static_cast<std::size_t>(i)].part)];
  return pieces;
}

}  // namespace mendworth
