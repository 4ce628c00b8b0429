#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"
#include "mendworth/rates.hpp"

namespace mendworth {

/// The largest case file that is read, in bytes; a real one has a few thousand.
inline constexpr std::size_t largest_case_file = 1'048'576;

/// Reads and checks a case. `source_name` stands in messages. Each override is "key=value" with the key of
/// for_each_quantity or of any other entry, and a TOML value (a bare word is taken as a string); overrides come
/// after the text. What the text leaves out is taken from `rates` and listed in Case::defaults.
/// Throws InputError with all problems at once.
[[nodiscard]] Case read_case(std::string_view text, const std::string& source_name, const RateBook& rates,
                             const std::vector<std::string>& overrides = {});

/// Reads a whole regular file, or standard input for "-", of at most `limit` bytes.
/// Throws FileError if it is missing, not readable, a directory; InputError if it is larger than `limit`.
[[nodiscard]] std::string read_text_file(const std::string& path, std::size_t limit = largest_case_file);

/// A commented starter case: the smallest useful one, or with `every_key` one that shows every key.
/// Both pass read_case.
[[nodiscard]] std::string starter_case(bool every_key);

}  // namespace mendworth
