#pragma once

#include <string>
#include <string_view>

#include "input/file_kind.hpp"
#include "mendworth/diagnostic.hpp"

namespace mendworth::input {

/// The same problems, those of this source with the lines of its text that they are about.
[[nodiscard]] InputError with_excerpts(const InputError& error, std::string_view text,
                                       const std::string& source_name);

/// What every reader of a whole file does around its work: a file of another kind is said to be that, and problems
/// come with their lines.
template <class Read>
[[nodiscard]] auto read_as(FileKind kind, std::string_view text, const std::string& source_name, Read read) {
  try {
    require_kind(text, source_name, kind);
    return read();
  } catch (const InputError& error) {
    throw with_excerpts(error, text, source_name);
  }
}

}  // namespace mendworth::input
