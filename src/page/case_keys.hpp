#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/questions.hpp"
#include "input/toml_text.hpp"

/// Keys of answers, and where they stand in the text of a case.
namespace mendworth::page {

/// Where the text has, or would have, the entry that an answer calls `key`: a part's only candidate need not be spelt
/// out, and a single price may be a number or a list of one. Absent if there is no table to hold it.
[[nodiscard]] std::optional<std::string> key_in_text(const input::TomlText& text, const std::string& key);

/// The entries that the first questions are about, those of the first position with a failure, in the order of the
/// questions. A question about several entries has none.
struct AskedKey {
  const input::Question* question = nullptr;
  std::string key;  ///< in the text
};
[[nodiscard]] std::vector<AskedKey> asked_keys(const input::TomlText& text);

/// The text of an entry, without its quotes; empty if it is no text or not there.
[[nodiscard]] std::string text_at(const input::TomlText& text, const std::string& key);

/// Names of the entries of a list: of parts, of suppliers.
[[nodiscard]] std::vector<std::string> names_in(const input::TomlText& text, const std::string& list_key);

}  // namespace mendworth::page
