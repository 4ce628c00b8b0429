#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

// The catalogue of what can be wrong with a case: tests/golden/errors/NAME.toml beside the exact messages for it, NAME.err.
// The first line of each case says what it is about.

namespace {

namespace fs = std::filesystem;

const fs::path catalogue = fs::path(MENDWORTH_SOURCE_DIR) / "tests" / "golden" / "errors";

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE_MESSAGE(file.good(), path.string());
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<std::string> names_with(const std::string& extension) {
  std::vector<std::string> names;
  for (const fs::directory_entry& entry : fs::directory_iterator(catalogue)) {
    if (entry.path().extension() == extension) names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string messages_for(const std::string& name) {
  const std::string file = name + ".toml";
  try {
    static_cast<void>(mendworth::read_case(content(catalogue / file), file, mendworth::built_in_rates()));
  } catch (const mendworth::InputError& error) {
    std::string all;
    for (const mendworth::Diagnostic& problem : error.problems()) all += problem.text() + '\n';
    return all;
  }
  return "no problem found\n";
}

}  // namespace

TEST_CASE("error catalogue: every bad case has its exact messages") {
  const std::vector<std::string> names = names_with(".toml");
  REQUIRE(names.size() >= 60);
  for (const std::string& name : names) {
    CAPTURE(name);
    CHECK(messages_for(name) == content(catalogue / (name + ".err")));
  }
}

TEST_CASE("error catalogue: cases and messages go in pairs") {
  CHECK(names_with(".toml") == names_with(".err"));
}

TEST_CASE("error catalogue: messages are in the order of the lines") {
  for (const std::string& name : names_with(".toml")) {
    CAPTURE(name);
    const std::string file = name + ".toml";
    try {
      static_cast<void>(mendworth::read_case(content(catalogue / file), file, mendworth::built_in_rates()));
    } catch (const mendworth::InputError& error) {
      const auto& problems = error.problems();
      CHECK(std::is_sorted(problems.begin(), problems.end(),
                           [](const auto& a, const auto& b) { return a.line < b.line; }));
    }
  }
}
