#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/document.hpp"
#include "input/problems.hpp"

namespace mendworth::input {

/// An entry that was set: where it stands, spelt in one way only ("supplier.1.lead_days"), and in which words.
struct EntrySet {
  std::string path;
  std::string words;
};

/// An entry of a case that is to have another value.
struct NewEntry {
  std::string key;
  std::string words;     ///< by which messages name the change
  Place place;           ///< of the change
  bool is_list = false;  ///< the value is one
  /// The value: `now` is what the document has there, null for nothing; `path` is that of EntrySet. Absent: a problem
  /// was reported.
  std::function<std::optional<Node>(const Node* now, const std::string& path)> value;
};

/// Writes an entry into the document of a case, as if the file had said so.
/// A key is that of for_each_quantity or of any other entry. The element of an array is named by its number from 1, by
/// its name, or not at all where there is only one. One entry set twice (`so_far`) is a problem, however each spells its
/// key, and so is a factor common to several entries, as answers name them. What reading the case would find out later
/// (unknown keys, wrong types) is left to it.
void set_entry(Node& document, NewEntry entry, std::vector<EntrySet>& so_far, Problems& problems);

/// Sets the entry of each "key=value". The value is TOML; what is no TOML value is a text.
void apply_overrides(Node& document, const std::vector<std::string>& overrides, Problems& problems);

/// A TOML value, or else the text as it stands, at this place. Empty for nothing at all and for broken lists and quotes.
[[nodiscard]] std::optional<Node> value_of(std::string_view text, Place place);

}  // namespace mendworth::input
