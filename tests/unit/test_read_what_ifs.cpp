#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "support/near.hpp"

// Expected values in this file are derived: they are what the text says.

namespace {

using namespace mendworth;
using test::near_rel;

Case read_text(const std::string& more) {
  return read_case(starter_case(false) + "\n" + more, "case.toml", built_in_rates());
}

std::string what_is_wrong(const std::string& more) {
  try {
    static_cast<void>(read_text(more));
  } catch (const InputError& error) {
    return error.what();
  }
  return "nothing";
}

const Change& only_change(const Scenario& scenario) {
  REQUIRE(scenario.changes.size() == 1);
  return scenario.changes.front();
}

}  // namespace

TEST_CASE("what-ifs: values, proportions, ranges and defaults") {
  const Case c = read_text(
      "[[what_if]]\nname = \"a\"\nlabour.rate_per_hour = 99\n"
      "[[what_if]]\nname = \"b\"\nlabour.rate_per_hour = \"+10 %\"\n"
      "[[what_if]]\nname = \"c\"\n\"labour.rate_per_hour\" = \"x 0.5\"\n"
      "[[what_if]]\nname = \"d\"\nlabour.rate_per_hour = { low = 1, high = 3 }\n"
      "[[what_if]]\nname = \"e\"\ndevice.name = \"x 2\"\n"
      "[[what_if]]\nname = \"f\"\nrisk.mend_minutes = \"-50%\"\n");
  REQUIRE(c.what_ifs.size() == 6);
  const double rate = c.labour.rate_per_hour.base();
  CHECK(c.what_ifs[0].changed.labour.rate_per_hour == Quantity::exactly(99));
  CHECK(only_change(c.what_ifs[0]).to == "99");
  CHECK(near_rel(c.what_ifs[1].changed.labour.rate_per_hour.base(), 1.1 * rate, 1e-14));
  CHECK(c.what_ifs[2].changed.labour.rate_per_hour == Quantity::exactly(rate / 2));
  CHECK(c.what_ifs[3].changed.labour.rate_per_hour == Quantity::between(1, 3));
  CHECK(only_change(c.what_ifs[3]).to == "{ low = 1, high = 3 }");
  CHECK(c.what_ifs[4].changed.device.name == "x 2");
  // A default of the rates is changed too, its spread with it.
  CHECK(c.what_ifs[5].changed.risks.mend_minutes.high() == c.risks.mend_minutes.high() / 2);
  CHECK(c.what_ifs[5].changed.risks.mend_minutes.spread() == c.risks.mend_minutes.spread());
  for (const Scenario& scenario : c.what_ifs) CHECK(scenario.changed.what_ifs.empty());
}

TEST_CASE("what-ifs: a proportion is what one would write, not what binary numbers make of it") {
  const Case c = read_text("[[what_if]]\nname = \"a\"\nreplacement.price = \"+10 %\"\n");
  const Case dear =
      read_case(starter_case(false) + "\n[[what_if]]\nname = \"a\"\nreplacement.price = \"+10 %\"\n",
                "case.toml", built_in_rates(), {"replacement.price=85"});
  CHECK(dear.what_ifs.front().changed.replacements.front().price == Quantity::exactly(93.5));
  CHECK(only_change(dear.what_ifs.front()).from == "85");
  CHECK(only_change(dear.what_ifs.front()).to == "93.5");
  CHECK(c.what_ifs.size() == 1);
}

TEST_CASE("what-ifs: what is wrong is told at its line, under its name") {
  const std::string text = starter_case(false);
  const auto lines = std::count(text.begin(), text.end(), '\n');
  const std::string fourth = "case.toml:" + std::to_string(lines + 4) + ":";
  const auto wrong = [](const std::string& change) {
    return what_is_wrong("[[what_if]]\nname = \"a\"\n" + change + "\n");
  };
  CHECK(wrong("labour.rate_per_hour = -1").find(fourth) != std::string::npos);
  CHECK(wrong("labour.rate_per_hour = -1").find("what_if.1.labour.rate_per_hour") != std::string::npos);
  CHECK(wrong("labour.rate_per_hou = 1").find("did you mean 'rate_per_hour'?") != std::string::npos);
  CHECK(wrong("labour.rate_per_hour = \"+10\"").find("no change of a number") != std::string::npos);
  CHECK(wrong("device.hours_per_day = \"+10 %\"").find("states no number there") != std::string::npos);
  CHECK(wrong("").find("it changes nothing") != std::string::npos);
  CHECK(wrong("labour.rate_per_hour = 3\nlabour.\"rate_per_hour\" = 4") != "nothing");
  CHECK(what_is_wrong("[[what_if]]\nlabour.rate_per_hour = 3\n").find("the name of the what-if") !=
        std::string::npos);
  CHECK(what_is_wrong("[what_if]\nname = \"a\"\nlabour.rate_per_hour = 3\n").find("double brackets") !=
        std::string::npos);
  CHECK(what_is_wrong("[[what_if]]\nname = \"a\"\nlabour.rate_per_hour = 3\n"
                      "[[what_if]]\nname = \"a\"\nlabour.rate_per_hour = 4\n")
            .find("has the name 'a' too") != std::string::npos);
}

TEST_CASE("row words: keys that a case can have") {
  const Case c = read_text("[rows]\nage = \"device.age_years\"\n\"a new one\" = \"replacement.price\"\n");
  REQUIRE(c.row_words.size() == 2);
  CHECK(c.row_words[1].word == "a new one");
  CHECK(c.row_words[1].key == "replacement.price");
  CHECK(what_is_wrong("[rows]\nage = \"device.age\"\n").find("near are: age_years") != std::string::npos);
  CHECK(what_is_wrong("[rows]\nage = 3\n").find("the key that the word stands for") != std::string::npos);
  CHECK(what_is_wrong("[rows]\nage = \"part.7.fit\"\n").find("there is no part 7") != std::string::npos);
}
