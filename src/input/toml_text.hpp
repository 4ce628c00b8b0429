#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/toml_quoted.hpp"

/// A TOML text with the places of what it holds, to change a value and leave every comment, blank and order as it is.
namespace mendworth::input {

/// Something of the text. Offsets are bytes.
struct TextNode {
  enum class Kind {
    value,  ///< a number, a text, a date, true, false
    inline_table,
    inline_list,
    table,  ///< of a header, or of dotted keys
    list,   ///< of tables with headers
  };
  Kind kind = Kind::table;
  std::size_t begin = 0,
              end = 0;  ///< of what stands inline; of a table's header line up to its last own line
  std::vector<std::pair<std::string, TextNode>> entries{};
  std::vector<TextNode> items{};
  /// Where a line may be added: behind the last own line of the table. Absent where it has no header of its own.
  std::optional<std::size_t> next_line{};
  std::string dotted{};  ///< what a key needs in front there: "labour."

  [[nodiscard]] const TextNode* find(std::string_view key) const noexcept;
  [[nodiscard]] bool is_inline() const noexcept { return kind != Kind::table && kind != Kind::list; }
  [[nodiscard]] bool is_list() const noexcept { return kind == Kind::list || kind == Kind::inline_list; }
};

/// One text and its places. Each change gives a new text; keys are dotted, items of lists counted from 1
/// ("part.1.offer.2.price").
class TomlText {
 public:
  /// Throws InputError if it is no TOML. `source_name` stands in the message.
  explicit TomlText(std::string text, const std::string& source_name = "");

  [[nodiscard]] const std::string& text() const noexcept { return text_; }
  [[nodiscard]] const TextNode& root() const noexcept { return root_; }
  /// Null if there is none.
  [[nodiscard]] const TextNode* find(std::string_view key) const;
  /// A value as it is written; empty for tables of headers.
  [[nodiscard]] std::string_view written(const TextNode& node) const;

  /// With `value`, which is one TOML value, at `key`: in place of what stands there, else behind the last line of its
  /// table, which is made if it is missing. Throws std::invalid_argument if the key leads through a value or to an item
  /// that is not there.
  [[nodiscard]] std::string with_value(std::string_view key, std::string_view value) const;
  /// Without the entry or the item of a list, and what belongs to it; the text as it is if there is none.
  [[nodiscard]] std::string without(std::string_view key) const;
  /// With one more table in a list of such, holding `lines`: {"name", "\"x\""} ...; inline where the list is, or where
  /// there is none and `in_line`.
  using Lines = std::vector<std::pair<std::string, std::string>>;
  [[nodiscard]] std::string with_item(std::string_view list_key, const Lines& lines, bool in_line) const;

 private:
  struct Block {
    std::string path;  ///< "part.2.offer.1"; empty for what precedes the first header
    std::size_t begin = 0, end = 0;
  };
  class Scanner;

  /// Behind all that belongs to the table or item.
  [[nodiscard]] std::size_t end_of(const std::string& path) const;
  [[nodiscard]] std::string replaced(std::size_t begin, std::size_t end, std::string_view by) const;
  [[nodiscard]] std::string with_line(std::size_t at, const std::string& line) const;

  std::string text_;
  TextNode root_;
  std::vector<Block> blocks_;
};

using mendworth::toml_quoted;

}  // namespace mendworth::input
