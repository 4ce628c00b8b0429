#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"

/// TOML text as a tree of our own: every value with its place, tables in the order of the file.
/// document.cpp is the only file that knows the TOML library.
namespace mendworth::input {

/// Where a value was written.
struct Place {
  int line = 0;            ///< 1-based; 0: nowhere in particular
  int column = 0;          ///< 1-based, in code points
  bool override_ = false;  ///< by an override, not in the text
};

struct Entry;

struct Node {
  enum class Kind { boolean, integer, number, text, date, moment, array, table };

  Kind kind = Kind::table;
  Place place;
  bool boolean = false;
  std::int64_t integer = 0;
  double number = 0;  ///< of an integer too
  std::string text;
  Date date;
  std::vector<Node> items;     ///< of an array
  std::vector<Entry> entries;  ///< of a table

  [[nodiscard]] const Node* find(std::string_view key) const noexcept;
  [[nodiscard]] Node* find(std::string_view key) noexcept;
  /// The value of a key, made as an empty table if it is not there yet.
  Node& at_or_new(const std::string& key, Place place);
  void erase(std::string_view key);

  [[nodiscard]] bool is_table() const noexcept { return kind == Kind::table; }
  [[nodiscard]] bool is_array() const noexcept { return kind == Kind::array; }
  [[nodiscard]] bool is_text() const noexcept { return kind == Kind::text; }
  [[nodiscard]] bool is_number() const noexcept { return kind == Kind::integer || kind == Kind::number; }
  /// In words: "the number 2.5", "the text 'abc'", "a list".
  [[nodiscard]] std::string described() const;
};

struct Entry {
  std::string key;
  Place key_place;
  Node value;
};

/// Parses a whole text. Throws InputError (one problem) if it is not UTF-8 or not TOML.
[[nodiscard]] Node parse_document(std::string_view text, const std::string& source_name);

}  // namespace mendworth::input
