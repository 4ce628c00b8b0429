#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "support/json_schema.hpp"
#include "support/run_command.hpp"

// Answers whose figures lie at an end of what the schema says of them.
using namespace mendworth;

namespace {

std::vector<std::string> problems_of(const char* schema, const std::vector<const char*>& command) {
  const test::Run answer = test::run(command);
  REQUIRE(answer.code == 0);
  const auto wanted = nlohmann::json::parse(test::run({"schema", schema}).out);
  return testing::SchemaValidator(wanted).problems(nlohmann::json::parse(answer.out));
}

}  // namespace

TEST_CASE("a spare that completes a set brings more than one use, and the schema knows") {
  const std::string path = std::string(MENDWORTH_SOURCE_DIR) + "/examples/one-order/talkback-box.toml";
  const auto problems = problems_of("buy", {"buy", path.c_str(), "--format", "json"});
  CHECK(problems == std::vector<std::string>{});
}
