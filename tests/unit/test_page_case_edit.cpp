#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "domain/inputs.hpp"
#include "input/toml_text.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "page/case_keys.hpp"
#include "page/field_text.hpp"
#include "support/example_files.hpp"

using namespace mendworth;
using namespace mendworth::page;

namespace {

std::string written(const char* key, std::string_view typed) {
  return written_value(*find_input(case_inputs(), key), typed);
}

std::string shown(const char* key, std::string_view value) {
  return shown_text(*find_input(case_inputs(), key), value);
}

/// The comments of a text, in their order.
std::vector<std::string> comments_of(const std::string& text) {
  std::vector<std::string> comments;
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string line = text.substr(begin, end - begin);
    if (const std::size_t at = line.find("# "); at != std::string::npos) comments.push_back(line.substr(at));
    begin = end + 1;
  }
  return comments;
}

bool same_quantities(const Case& a, const Case& b) {
  std::vector<std::pair<std::string, Quantity>> all_a, all_b;
  for_each_quantity(a, [&](const std::string& key, const Quantity& q) { all_a.emplace_back(key, q); });
  for_each_quantity(b, [&](const std::string& key, const Quantity& q) { all_b.emplace_back(key, q); });
  return all_a == all_b;
}

}  // namespace

TEST_CASE("what is typed becomes a value of TOML, and comes back as it was typed") {
  CHECK(written("device.age_years", " 4 ") == "4");
  CHECK(written("device.age_years", ".5") == "0.5");
  CHECK(written("device.age_years", "2..6") == "{ low = 2, high = 6 }");
  CHECK(written("device.age_years", "2 to 4 to 9") == "{ low = 2, likely = 4, high = 9 }");
  CHECK(written("device.scrap", "-3") == "-3");
  CHECK(written("device.age_years", "{ low = 1, likely = 2, high = 3, spread = \"triangular\" }") ==
        "{ low = 1, likely = 2, high = 3, spread = \"triangular\" }");
  CHECK(written("device.must_keep", "true") == "true");
  CHECK(written("device.guarantee_until", "2027-01-31") == "2027-01-31");
  CHECK(written("device.hazards", "mains\nlithium") == "[\"mains\", \"lithium\"]");
  CHECK(written("part.nominal", "stem = 4.3, width = 6") == "{ \"stem\" = 4.3, \"width\" = 6 }");
  CHECK(shown("device.age_years", "{ low = 2, likely = 4, high = 9 }") == "2..4..9");
  CHECK(shown("device.hazards", "[\"mains\", \"lithium\"]") == "mains\nlithium");
  CHECK(shown("part.nominal", "{ \"stem\" = 4.3 }") == "stem = 4.3");
  CHECK(shown("device.name", "\"a \\\"b\\\"\"") == "a \"b\"");
}

TEST_CASE("what is no value of its kind is left to the reader as a text, never as TOML of its own") {
  CHECK(written("device.age_years", "2,5") == "\"2,5\"");
  CHECK(written("device.age_years", "nan") == "\"nan\"");
  CHECK(written("device.age_years", "1e999") == "\"1e999\"");
  CHECK(written("device.age_years", "{ low = 1 }\nx = 2") == "\"{ low = 1 }\\u000Ax = 2\"");
  CHECK(written("device.guarantee_until", "2027-01-31\nx = 1") == "\"2027-01-31\\u000Ax = 1\"");
  CHECK(written("device.name", "\"\nx = 1") == "\"\\\"\\u000Ax = 1\"");
  CHECK(written("device.must_keep", "yes") == "\"yes\"");
}

TEST_CASE("a changed text says what an override says, and keeps its comments") {
  for (const char* file : {"synth-buttons.toml", "lighting-desk.toml", "kitchen-scale.toml",
                           "field-recorder.toml", "label-printer.toml", "stage-metronome.toml"}) {
    const std::string text = mendworth::test::example_text(file);
    const Case before = read_case(text, file, built_in_rates());
    const input::TomlText places(text);
    int changed = 0;
    for_each_quantity(before, [&](const std::string& key, const Quantity& quantity) {
      const auto place = key_in_text(places, key);
      // What the text does not spell out is not said of the part's only candidate alone.
      if (!place || (places.find(*place) == nullptr && key.find(".candidate.") != std::string::npos)) return;
      const Limits limits = input_of(key).limits;
      const double value = std::clamp(quantity.base() * 0.9, std::max(limits.low, limits.least), limits.high);
      const std::string number = fmt::format("{:.6g}", value);
      const std::string edited = places.with_value(*place, number);
      Case by_text, by_override;
      try {
        by_override = read_case(text, file, built_in_rates(), {key + "=" + number});
      } catch (const InputError&) {
        return;  // clashes with another entry
      }
      CAPTURE(file);
      CAPTURE(key);
      by_text = read_case(edited, file, built_in_rates());
      CHECK(same_quantities(by_text, by_override));
      CHECK(comments_of(edited) == comments_of(text));
      ++changed;
    });
    CHECK(changed > 20);
  }
}

TEST_CASE("the first questions are about entries that the examples have") {
  const input::TomlText text(mendworth::test::example_text("label-printer.toml"));
  std::vector<std::string> questions;
  for (const AskedKey& asked : asked_keys(text)) {
    questions.emplace_back(asked.question->key);
    CHECK(find_input(case_inputs(), asked.key) != nullptr);
  }
  CHECK(std::find(questions.begin(), questions.end(), "part") != questions.end());
  CHECK(std::find(questions.begin(), questions.end(), "age") != questions.end());
  CHECK(std::find(questions.begin(), questions.end(), "minutes") == questions.end());
}
