#pragma once

#include <string_view>
#include <vector>

namespace mendworth {

/// One file of rates/, compiled in.
struct BuiltInTable {
  const char* name;  ///< "lives.toml"
  std::string_view text;
};

/// Defined in a file that embed.cmake writes.
[[nodiscard]] std::vector<BuiltInTable> built_in_tables();

}  // namespace mendworth
