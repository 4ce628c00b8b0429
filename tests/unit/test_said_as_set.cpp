#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "mendworth/read_case.hpp"
#include "support/page_text.hpp"
#include "support/run_command.hpp"
#include "support/temporary_folder.hpp"

// Messages name what is to be written as it is written there: after --set with its numbers, in a file by its section.
using namespace mendworth;
using test::run;
using testing::contains;

TEST_CASE("what to set instead of a key that people try is a key that --set takes") {
  const test::TemporaryFolder folder;
  const std::string path = folder.write("case.toml", starter_case(false));
  const std::vector<std::pair<const char*, const char*>> tried = {
      {"part.price=3", "(write part.1.offer.1.price)"},
      {"device.price=3", "(write replacement.1.price; what was paid for the device plays no part)"},
      {"part.count=3", "(write position.1.count)"},
      {"shipping=3", "(write supplier.1.shipping)"},
      {"hazards=x", "(write device.hazards)"},
      {"device.age=3", "(write age_years)"}};
  for (const auto& item : tried) {
    CAPTURE(std::string(item.first));
    const test::Run told = run({"weigh", path.c_str(), "--set", item.first});
    CHECK(told.code == 3);
    CHECK(contains(told.err, item.second));
  }
}

TEST_CASE("in a list of several the number is that of the key which is not known") {
  const test::TemporaryFolder folder;
  const std::string path = folder.write("case.toml", starter_case(false) + R"(
[[position]]
name = "tuning knob"
part = "knob"
failed = 1
[[part]]
name = "knob"
class = "rotary-encoder"
[[part.offer]]
price = 2
)");
  CHECK(
      contains(run({"weigh", path.c_str(), "--set", "part.2.price=3"}).err, "(write part.2.offer.1.price)"));
}

TEST_CASE("a key that cannot be turned gets one that can") {
  const test::TemporaryFolder folder;
  const std::string path = folder.write("case.toml", starter_case(false));
  const test::Run told = run({"weigh", path.c_str(), "--against", "device.colour,device.age_years"});
  CHECK(told.code == 2);
  CHECK_FALSE(contains(told.err, "; \n"));
}

TEST_CASE("a folder that is no record of a quote is said to be none") {
  const test::TemporaryFolder folder;
  const std::string path = folder.file("nothing");
  const test::Run told = run({"quote", "--again", path.c_str()});
  CHECK(told.code == 4);
  CHECK(contains(told.err, "is no record of a quote"));
}
