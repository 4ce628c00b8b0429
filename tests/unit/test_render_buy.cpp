#include <doctest/doctest.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "support/json_schema.hpp"

using namespace mendworth;
using Json = nlohmann::json;

namespace {

Buying bought(const std::string& example) {
  const auto path = std::filesystem::path(MENDWORTH_SOURCE_DIR) / "examples" / example;
  BuySettings settings;
  settings.futures = 1000;
  return buy(read_case(read_text_file(path.string()), example, built_in_rates()), built_in_rates(), settings);
}

}  // namespace

TEST_CASE("the JSON of a purchase satisfies its schema, and the schema knows every key") {
  const Json schema = Json::parse(buying_schema());
  mendworth::testing::SchemaValidator validator(schema);
  for (const char* example :
       {"stage-metronome.toml", "lighting-desk.toml", "wall-dimmer.toml", "label-printer.toml"}) {
    const std::string text = buying_json(bought(example));
    CHECK(text.starts_with("{\n  \"schema\": \"mendworth.buying\",\n  \"version\": 1,\n"));
    for (const auto& problem : validator.problems(Json::parse(text))) FAIL_CHECK(example << ": " << problem);
  }
}

TEST_CASE("the text of a purchase keeps to its width and says what it must") {
  for (const char* example : {"stage-metronome.toml", "synth-buttons.toml", "lighting-desk.toml"}) {
    const std::string text = buying_page(bought(example), {.show = {"all"}});
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) CHECK(display_width(line) <= 80);
    CHECK(text.find("What to order") != std::string::npos);
    CHECK(text.find("Baskets, by net cost") != std::string::npos);
    CHECK(text.find("How many:") != std::string::npos);
    CHECK(text.find("nan") == std::string::npos);
  }
}

TEST_CASE("work for licensed people has nothing to order, and says so") {
  const Buying b = bought("wall-dimmer.toml");
  CHECK(b.baskets.empty());
  REQUIRE(!b.notes.empty());
  CHECK(buying_page(b, {.show = {"all"}}).find("nothing to order") != std::string::npos);
}
