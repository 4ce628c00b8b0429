#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace mendworth::input {

/// Damerau-Levenshtein distance, optimal string alignment: insertions, deletions, substitutions and swaps of
/// neighbours, each counted one. Case is ignored, and '_', '-' and ' ' are the same.
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

/// The known name that is nearest to a misspelt one: at most two edits away, or a third of its length; in
/// names of up to five letters one edit. The first of those that are equally near; absent if none is near enough.
[[nodiscard]] std::optional<std::string> nearest(std::string_view misspelt,
                                                 const std::vector<std::string>& known);

/// The known names that a word of another kind stands for: that hold it ("switch"), or that people call so ("button" for
/// a class of wear part); at most six, in the order of `known`.
[[nodiscard]] std::vector<std::string> related(std::string_view word, const std::vector<std::string>& known);

/// "did you mean 'x'?" for the nearest name or the only one that begins so, or else "known are: a, b, c" while
/// that stays short, or else "near are: a, b" for related ones, or else `otherwise`.
[[nodiscard]] std::string suggestion(std::string_view misspelt, const std::vector<std::string>& known,
                                     const std::string& otherwise = "");

/// The problem with the suggestion behind it, if there is one.
[[nodiscard]] std::string with_suggestion(const std::string& problem, std::string_view misspelt,
                                          const std::vector<std::string>& known);

/// What to write instead of a key that people try where another is meant ("age" under "device"), with or without the
/// numbers of lists in its path; empty for any other.
[[nodiscard]] std::string key_meant(std::string_view path, std::string_view key);

/// The keys of a map, in its order.
template <class Map>
[[nodiscard]] std::vector<std::string> names_of(const Map& map) {
  std::vector<std::string> out;
  out.reserve(map.size());
  for (const auto& item : map) out.push_back(item.first);
  return out;
}

}  // namespace mendworth::input
