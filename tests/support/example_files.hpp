#pragma once

#include <fstream>
#include <iterator>
#include <string>

namespace mendworth::test {

/// The text of a file of the folder examples.
inline std::string example_text(const std::string& name) {
  std::ifstream file(std::string(MENDWORTH_SOURCE_DIR) + "/examples/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

}  // namespace mendworth::test
