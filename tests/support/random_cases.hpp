#pragma once

#include <cstdlib>
#include <string_view>

namespace mendworth::test {

/// How many of `all` random cases, or futures, a test tries: all of them, or a quarter where MENDWORTH_FEW_CASES is set,
/// as for the sanitizers, which look at every step and take their time.
[[nodiscard]] inline int random_cases(int all) {
  const char* few = std::getenv("MENDWORTH_FEW_CASES");
  return few != nullptr && std::string_view(few) != "0" ? (all + 3) / 4 : all;
}

}  // namespace mendworth::test
