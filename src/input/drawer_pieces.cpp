#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "input/drawer_columns.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"

// Pieces into the drawer and out of it.
namespace mendworth {

namespace {

using input::pieces_text;
using input::printable;
using input::trimmed;

[[noreturn]] void fail(const Drawer& drawer, const std::string& message, const std::string& remedy = "") {
  throw InputError({{drawer.source_name, 0, 0, "", message, remedy}});
}

/// Other names with pieces that may be meant: "did you mean 'a' (3 pieces) or 'b' (1 piece)?"
std::string similar_names(const Drawer& drawer, std::string_view wanted, bool there_are_none) {
  constexpr std::size_t most = 3, longest_suggestion = 150;
  std::set<std::string> others;
  for (const DrawerEntry& entry : drawer.entries) {
    if (entry.candidate != wanted && entry.pieces > 0) others.insert(entry.candidate);
  }
  std::vector<std::string> names(others.begin(), others.end());
  std::string text;
  for (std::size_t said = 0; said < most; ++said) {
    const auto next = input::nearest(wanted, names);
    if (!next) break;
    text += fmt::format("{}'{}' ({})", said == 0 ? "did you mean " : " or ", printable(*next),
                        pieces_text(pieces_of(drawer, *next)));
    std::erase(names, std::string(*next));
  }
  if (!text.empty()) return text + '?';
  return there_are_none ? printable(input::suggestion(wanted, names), longest_suggestion) : "";
}

void require_pieces(int pieces) {
  if (pieces < 1 || pieces > most_drawer_pieces) {
    throw std::invalid_argument(fmt::format("pieces must be in 1..{}", most_drawer_pieces));
  }
}

/// Where new pieces belong; absent: into an entry of their own.
DrawerEntry* place_for(Drawer& drawer, std::string_view name, const std::optional<Date>& since,
                       const std::string& note) {
  DrawerEntry* empty = nullptr;
  for (DrawerEntry& entry : drawer.entries) {
    if (entry.candidate != name) continue;
    if (entry.since == since && entry.note == note) return &entry;
    if (entry.pieces == 0 && empty == nullptr) empty = &entry;
  }
  return empty;
}

/// The entries of a name, oldest first: what has no date was there before anybody wrote one down.
std::vector<std::size_t> oldest_first(const Drawer& drawer, std::string_view name) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < drawer.entries.size(); ++i) {
    if (drawer.entries[i].candidate == name) found.push_back(i);
  }
  std::ranges::stable_sort(found, [&](std::size_t a, std::size_t b) {
    return drawer.entries[a].since < drawer.entries[b].since;  // an absent date is less than any
  });
  return found;
}

}  // namespace

long long pieces_of(const Drawer& drawer, std::string_view candidate) {
  const std::string_view name = trimmed(candidate);
  long long sum = 0;
  for (const DrawerEntry& entry : drawer.entries) {
    if (trimmed(entry.candidate) == name) sum += entry.pieces;
  }
  return sum;
}

void add_pieces(Drawer& drawer, std::string_view candidate, int pieces, const std::optional<Date>& since,
                const std::string& note) {
  const std::string_view name = trimmed(candidate);
  require_pieces(pieces);
  if (name.empty()) throw std::invalid_argument("a name must not be blank");
  if (input::find_bad_byte(name) || input::find_bad_byte(note)) {
    throw std::invalid_argument("name and note must be UTF-8 text");
  }
  DrawerEntry* entry = place_for(drawer, name, since, note);
  if (entry == nullptr) {
    drawer.entries.push_back({std::string(name), pieces, since, note, {}});
    return;
  }
  if (entry->pieces > most_drawer_pieces - pieces) {
    fail(drawer, fmt::format("with {} more there would be {} of '{}'; at most {} are counted in one row",
                             pieces, pieces_text(static_cast<long long>(entry->pieces) + pieces),
                             printable(name), most_drawer_pieces));
  }
  entry->pieces += pieces;
  entry->since = since;
  entry->note = note;
}

void take_pieces(Drawer& drawer, std::string_view candidate, int pieces) {
  require_pieces(pieces);
  const std::string_view name = trimmed(candidate);
  const long long there = pieces_of(drawer, name);
  if (there < pieces) {
    fail(drawer,
         there == 0 ? fmt::format("there is no '{}' in the drawer", printable(name))
                    : fmt::format("there {} of '{}', not {}",
                                  there == 1 ? "is 1 piece" : fmt::format("are {} pieces", there),
                                  printable(name), pieces),
         similar_names(drawer, name, there == 0));
  }
  std::vector<std::size_t> emptied;
  const std::vector<std::size_t> found = oldest_first(drawer, name);
  for (const std::size_t i : found) {
    DrawerEntry& entry = drawer.entries[i];
    const int taken = std::min(entry.pieces, pieces);
    entry.pieces -= taken;
    pieces -= taken;
    if (entry.pieces == 0) emptied.push_back(i);
  }
  if (emptied.size() == found.size()) emptied.pop_back();  // the last of its name keeps the name's place
  std::sort(emptied.rbegin(), emptied.rend());
  for (const std::size_t i : emptied)
    drawer.entries.erase(std::next(drawer.entries.begin(), static_cast<std::ptrdiff_t>(i)));
}

}  // namespace mendworth
