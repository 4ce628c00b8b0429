#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/drawer_columns.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/drawer.hpp"

namespace mendworth {

namespace {

using input::pieces_text;
using input::printable;
using input::trimmed;

std::string digits_of(std::string_view text) {
  std::string digits;
  for (const char c : text) {
    if (c >= '0' && c <= '9') digits += c;
  }
  return digits;
}

/// A slip of the pen, not another thing: "button 6x6" and "button 6x7" are two.
bool nearly_same(std::string_view a, std::string_view b) {
  constexpr std::size_t long_name = 8, longest_compared = 200;
  if (std::max(a.size(), b.size()) > longest_compared || digits_of(a) != digits_of(b)) return false;
  return input::edit_distance(a, b) <= (std::min(a.size(), b.size()) >= long_name ? 2U : 1U);
}

std::string list_of(const std::vector<std::string>& names, const char* last_word) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? last_word : ", ";
    text += fmt::format("'{}'", printable(names[i]));
  }
  return text;
}

class Layer {
 public:
  Layer(const Drawer& drawer, Case& c) : case_(c) {
    for (const DrawerEntry& entry : drawer.entries) {
      const std::string name(trimmed(entry.candidate));
      if (on_hand_.emplace(name, 0).second) names_.push_back(name);
      on_hand_[name] += entry.pieces;
    }
  }

  std::vector<std::string> lay() {
    for (Part& part : case_.parts) {
      for (Candidate& candidate : part.candidates) set(part, candidate);
    }
    for (const std::string& name : names_) note_on(name);
    return std::move(notes_);
  }

 private:
  void set(const Part& part, Candidate& candidate) {
    const std::string name(trimmed(candidate.name));
    parts_[name].push_back(part.name);
    const auto found = on_hand_.find(name);
    if (found == on_hand_.end()) return;
    candidate.on_hand = static_cast<int>(std::min<long long>(found->second, most_drawer_pieces));
  }

  void note_on(const std::string& name) {
    const long long pieces = on_hand_[name];
    if (pieces == 0) return;
    const std::string entry = fmt::format("The drawer's '{}' ({})", printable(name), pieces_text(pieces));
    if (const auto found = parts_.find(name); found != parts_.end()) {
      if (found->second.size() > 1) {
        notes_.push_back(fmt::format("{} may serve as {}: each part counts all of it.", entry,
                                     list_of(found->second, " and as ")));
      }
      if (pieces > most_drawer_pieces) {
        notes_.push_back(fmt::format("{}: {} of them are counted.", entry, most_drawer_pieces));
      }
    } else if (const auto meant = nearest_candidate(name)) {
      notes_.push_back(fmt::format("{} is not counted: the case has no such candidate. Did you mean '{}'?",
                                   entry, printable(*meant)));
    } else {
      note_on_part(name, entry);
    }
  }

  void note_on_part(const std::string& name, const std::string& entry) {
    for (const Part& part : case_.parts) {
      if (trimmed(part.name) != name || part.candidates.empty()) continue;
      std::vector<std::string> candidates;
      for (const Candidate& candidate : part.candidates) candidates.push_back(candidate.name);
      notes_.push_back(fmt::format(
          "{} is not counted: it is a part of the case, and none of its candidates. Did you mean {}?", entry,
          list_of(candidates, " or ")));
    }
  }

  /// A candidate that has its own entry is not what another entry means.
  [[nodiscard]] std::optional<std::string> nearest_candidate(const std::string& name) const {
    for (const auto& [candidate, parts] : parts_) {
      if (!on_hand_.contains(candidate) && nearly_same(name, candidate)) return candidate;
    }
    return std::nullopt;
  }

  Case& case_;
  std::map<std::string, long long> on_hand_;               // by name
  std::vector<std::string> names_;                         // of the drawer, in its order
  std::map<std::string, std::vector<std::string>> parts_;  // by the candidate's name
  std::vector<std::string> notes_;
};

}  // namespace

std::vector<std::string> lay_out(const Drawer& drawer, Case& c) { return Layer(drawer, c).lay(); }

}  // namespace mendworth
