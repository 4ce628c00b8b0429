#include <doctest/doctest.h>
#include <string>

#include "mendworth/read_case.hpp"

// The outputs kept beside this file begin with the starter; it must be the one that `new` writes.
TEST_CASE("the starter whose answers are kept is the one that is written") {
  const std::string path = std::string(MENDWORTH_SOURCE_DIR) + "/tests/golden/starter.toml";
  CHECK(mendworth::read_text_file(path) == mendworth::starter_case(false));
}
