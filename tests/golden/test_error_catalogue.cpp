#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"

// The catalogues of what can be wrong with a case and with a shop: a folder of NAME.toml beside the exact messages for it,
// NAME.err. The first line of each file says what it is about.

namespace {

namespace fs = std::filesystem;

struct Catalogue {
  fs::path folder;
  std::size_t least;  ///< files
  std::function<void(const std::string& text, const std::string& file)> read;
};

const fs::path golden = fs::path(MENDWORTH_SOURCE_DIR) / "tests" / "golden";

const std::vector<Catalogue> catalogues = {
    {golden / "errors", 60,
     [](const std::string& text, const std::string& file) {
       static_cast<void>(mendworth::read_case(text, file, mendworth::built_in_rates()));
     }},
    {golden / "shop_errors", 17,
     [](const std::string& text, const std::string& file) {
       static_cast<void>(mendworth::read_shop(text, file, mendworth::built_in_rates()));
     }},
};

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE_MESSAGE(file.good(), path.string());
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<std::string> names_with(const fs::path& folder, const std::string& extension) {
  std::vector<std::string> names;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
    if (entry.path().extension() == extension) names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

/// What is wrong with a file; empty if nothing is.
std::vector<mendworth::Diagnostic> problems_of(const Catalogue& catalogue, const std::string& name) {
  const std::string file = name + ".toml";
  try {
    catalogue.read(content(catalogue.folder / file), file);
  } catch (const mendworth::InputError& error) {
    return error.problems();
  }
  return {};
}

}  // namespace

TEST_CASE("error catalogue: every bad file has its exact messages") {
  for (const Catalogue& catalogue : catalogues) {
    const std::vector<std::string> names = names_with(catalogue.folder, ".toml");
    REQUIRE(names.size() >= catalogue.least);
    for (const std::string& name : names) {
      CAPTURE(catalogue.folder.string());
      CAPTURE(name);
      std::string all;
      for (const mendworth::Diagnostic& problem : problems_of(catalogue, name)) all += problem.text() + '\n';
      CHECK(all == content(catalogue.folder / (name + ".err")));
      CHECK_FALSE(all.empty());
    }
  }
}

TEST_CASE("error catalogue: files and messages go in pairs") {
  for (const Catalogue& catalogue : catalogues)
    CHECK(names_with(catalogue.folder, ".toml") == names_with(catalogue.folder, ".err"));
}

TEST_CASE("error catalogue: messages are in the order of the lines") {
  for (const Catalogue& catalogue : catalogues) {
    for (const std::string& name : names_with(catalogue.folder, ".toml")) {
      CAPTURE(name);
      const auto problems = problems_of(catalogue, name);
      CHECK(std::is_sorted(problems.begin(), problems.end(),
                           [](const auto& a, const auto& b) { return a.line < b.line; }));
    }
  }
}
