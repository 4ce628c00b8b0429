#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "mendworth/weigh.hpp"
#include "support/random_cases.hpp"

// What is accepted is answered: cases with one value spoilt are either refused with messages or weighed to an answer of
// finite numbers. A sample of the mutants is tried; with MENDWORTH_ALL_MUTANTS set, every one.

namespace {

namespace fs = std::filesystem;
using namespace mendworth;

/// Part of a text that is replaced.
struct Mutant {
  std::size_t at = 0;
  std::size_t length = 0;
  std::string put;
};

bool in_number(char c) { return (c >= '0' && c <= '9') || c == '.' || c == '_'; }

/// The place after the last mark of a comment is none of ours: quotes of the examples hold no '#'.
std::string_view without_comment(std::string_view line) { return line.substr(0, line.find('#')); }

void spoil_numbers(std::size_t start, std::string_view line, std::vector<Mutant>& mutants) {
  static const std::vector<std::string> values = {"0",
                                                  "-1",
                                                  "1e-300",
                                                  "1e-100",
                                                  "1e-9",
                                                  "1e-4",
                                                  "0.001",
                                                  "0.02",
                                                  "0.5",
                                                  "1",
                                                  "20",
                                                  "100",
                                                  "1e3",
                                                  "36525",
                                                  "1e6",
                                                  "1e9",
                                                  "1e12",
                                                  "1e300",
                                                  "nan",
                                                  "inf",
                                                  "\"text\"",
                                                  "true",
                                                  "[]",
                                                  "{ low = 0.001, high = 1 }",
                                                  "{ low = 0, likely = 0, high = 1000000 }",
                                                  "{ low = 2, high = 1 }"};
  const std::size_t equals = line.find('=');
  if (equals == std::string_view::npos) return;
  bool quoted = false;
  for (std::size_t i = equals; i < line.size(); ++i) {
    if (line[i] == '"') quoted = !quoted;
    const char before = line[i - 1];
    const bool word = in_number(before) || before == '-' || (before >= 'a' && before <= 'z');
    if (quoted || word || line[i] < '0' || line[i] > '9') continue;
    std::size_t end = i;
    while (end < line.size() && in_number(line[end])) ++end;
    for (const std::string& value : values) mutants.push_back({start + i, end - i, value});
    i = end - 1;
  }
}

std::vector<Mutant> mutants_of(const std::string& text) {
  std::vector<Mutant> mutants;
  std::size_t start = 0;
  while (start < text.size()) {
    const std::size_t end = std::min(text.find('\n', start), text.size() - 1) + 1;
    const std::string line = text.substr(start, end - start);
    const std::string_view code = without_comment(line);
    spoil_numbers(start, code, mutants);
    if (code.find_first_not_of(" \n") != std::string_view::npos) {
      mutants.push_back({start, end - start, ""});
      mutants.push_back({start, end - start, line + line});
    }
    start = end;
  }
  return mutants;
}

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// What went wrong; empty if the case was refused as it should be, or weighed.
std::string fault_of(const std::string& text) {
  try {
    const Case c = read_case(text, "mutant.toml", built_in_rates());
    check(c);
    const Weighing w = weigh(c, built_in_rates(), {.futures = 100, .threads = 1, .what_ifs = false});
    static_cast<void>(weighing_json(w));  // throws where a number is not finite
    static_cast<void>(weighing_page(w, {.show = {"all"}}));
  } catch (const InputError& error) {
    return error.problems().empty() ? "refused without a problem" : "";
  } catch (const std::exception& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("mutants: a case is refused or answered, whatever its values") {
  std::vector<std::pair<fs::path, std::string>> cases;
  for (const fs::directory_entry& entry :
       fs::directory_iterator(fs::path(MENDWORTH_SOURCE_DIR) / "examples")) {
    if (entry.path().extension() != ".toml" || entry.path().stem() == "shop") continue;
    cases.emplace_back(entry.path(), content(entry.path()));
  }
  std::sort(cases.begin(), cases.end());
  cases.emplace_back("starter, every key", starter_case(true));
  REQUIRE(cases.size() > 8);

  const bool all = std::getenv("MENDWORTH_ALL_MUTANTS") != nullptr;
  // Primes share no factor with the numbers of values tried in turn; the sanitizers get half of the sample.
  const std::size_t sample_step = test::random_cases(4) == 4 ? 37 : 73;
  std::size_t number = 0, tried = 0;
  for (const auto& item : cases) {
    for (const Mutant& mutant : mutants_of(item.second)) {
      if (!all && number++ % sample_step != 0) continue;
      ++tried;
      std::string text = item.second;
      text.replace(mutant.at, mutant.length, mutant.put);
      const std::string fault = fault_of(text);
      if (fault.empty()) continue;
      const auto line =
          std::count(item.second.begin(), item.second.begin() + static_cast<std::ptrdiff_t>(mutant.at), '\n');
      FAIL_CHECK(item.first.filename().string()
                 << ':' << line + 1 << ": '" << item.second.substr(mutant.at, mutant.length) << "' -> '"
                 << mutant.put << "': " << fault);
    }
  }
  CHECK(tried > 125);
}

TEST_CASE("mutants: what they have found") {
  // Years beyond e^-700 of a discount are nought, not nought times infinity.
  std::string text = content(fs::path(MENDWORTH_SOURCE_DIR) / "examples" / "kitchen-scale.toml");
  const std::string_view life = "remaining_years = { low = 2, likely = 4, high = 8 }";
  const std::size_t at = text.find(life);
  REQUIRE(at != std::string::npos);
  text.replace(at, life.size(), "remaining_years = { low = 2, likely = 4, high = 1e6 }");
  CHECK(fault_of(text) == "");
}
