#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>

#include "render/again_words.hpp"
#include "render/number_text.hpp"

// Expected sentences are derived by hand from the rules, times rounded as rough_years_text says.
using namespace mendworth;

namespace {

AgainRule rule(std::optional<double> from, std::optional<double> to, bool spare = false, int repairs = 0,
               const std::string& part = "button") {
  return {
      .part = part, .spare_at_hand = spare, .repairs_before = repairs, .from_years = from, .to_years = to};
}

}  // namespace

TEST_CASE("times as one says them") {
  CHECK(rough_years_text(0) == "0 months");
  CHECK(rough_years_text(1.0 / 12) == "1 month");
  CHECK(rough_years_text(0.65) == "8 months");   // 7.8
  CHECK(rough_years_text(0.95) == "11 months");  // 11.4
  CHECK(rough_years_text(0.97) == "1 year");     // 11.6
  CHECK(rough_years_text(1.2) == "1 year");      // 14.4
  CHECK(rough_years_text(1.3) == "1 1/2 years");
  CHECK(rough_years_text(1.8) == "2 years");
  CHECK(rough_years_text(2.4) == "2 1/2 years");
  CHECK(rough_years_text(3.7) == "3 1/2 years");
  CHECK(rough_years_text(3.8) == "4 years");
  CHECK(rough_years_text(9.6) == "10 years");
  CHECK(rough_years_text(23) == "25 years");
  CHECK_THROWS_AS(static_cast<void>(rough_years_text(std::numeric_limits<double>::infinity())),
                  std::domain_error);
}

TEST_CASE("one rule for every later failure") {
  CHECK(again_words({}).empty());
  CHECK(again_words({rule({}, {})}) == "replace it if it fails again");
  CHECK(again_words({rule(0, {})}) == "repair again whenever it fails");
  CHECK(again_words({rule(0, 4.1)}) == "repair again if it fails within 4 years, replace after that");
  CHECK(again_words({rule(1.9, {})}) == "replace if it fails within 2 years, repair again after that");
  CHECK(again_words({rule(1, 3)}) == "repair again if it fails between 1 year and 3 years, else replace");
  CHECK(again_words({rule(4, 6), rule(0, 0.5)}) ==
        "repair again if it fails within 6 months or between 4 years and 6 years, else replace");
}

TEST_CASE("times that round to nothing are none") {
  CHECK(again_words({rule(0, 0.03)}) == "replace it if it fails again");
  CHECK(again_words({rule(0.03, 4)}) == "repair again if it fails within 4 years, replace after that");
  CHECK(again_words({rule(0.03, {})}) == "repair again whenever it fails");
  CHECK(again_words({rule(3, 3)}) == "replace it if it fails again");
}

TEST_CASE("kinds that differ by less than a fifth are alike, and their mean is told") {
  // (3.7 + 4.3) / 2 = 4
  CHECK(again_words({rule(0, 3.7, true), rule(0, 4.3, false)}) ==
        "repair again if it fails within 4 years, replace after that");
  CHECK(again_words({rule(0, 3, true), rule(0, 3.7, false)}) ==  // 3.7 / 3 = 1.23
        "repair again with a spare at hand within 3 years, without one within 3 1/2 years; else replace");
  // An end is not like none.
  CHECK(again_words({rule(0, {}, true), rule(0, 40, false)}) ==
        "repair again with a spare at hand always, without one within 40 years; else replace");
}

TEST_CASE("what tells kinds apart is named, and nothing else") {
  CHECK(again_words({rule(0, 5, true), rule(0, 3, false), rule(0, 5.2, true, 1), rule(0, 2.9, false, 1)}) ==
        "repair again with a spare at hand within 5 years, without one within 3 years; else replace");
  CHECK(again_words({rule(0, 5, true), rule({}, {}, false)}) ==
        "repair again with a spare at hand within 5 years, without one not at all; else replace");
  CHECK(again_words({rule(0, 5, true), rule(0, 2, true, 1), rule(0, 2.1, true, 2), rule(0, 5, false),
                     rule(0, 2, false, 1), rule(0, 1.9, false, 2)}) ==
        "repair again at the first failure within 5 years, from the second failure on within 2 years; else "
        "replace");
  CHECK(again_words({rule(0, 5), rule(0, 5.1, false, 1), rule({}, {}, false, 2)}) ==
        "repair again from the first to the second failure within 5 years, from the third failure on not at "
        "all; "
        "else replace");
  CHECK(again_words({rule(0, 5), rule({}, {}, false, 0, "fader"), rule({}, {}, false, 0, "knob")}) ==
        "repair again for the button within 5 years, for the fader and the knob not at all; else replace");
  CHECK(again_words({rule(0, 8, true), rule(0, 5, false), rule(0, 3, true, 1), rule({}, {}, false, 1)}) ==
        "repair again at the first failure with a spare at hand within 8 years, from the second failure on "
        "with a "
        "spare at hand within 3 years, at the first failure without one within 5 years, from the second "
        "failure on "
        "without one not at all; else replace");
}

TEST_CASE("too many kinds are told in short") {
  std::vector<AgainRule> rules;
  for (int repairs = 0; repairs < 5; ++repairs) rules.push_back(rule(0, 10.0 - 2 * repairs, false, repairs));
  CHECK(again_words(rules) ==
        "repair again if it fails within 2 years; after that it depends on how often it has been repaired; "
        "replace "
        "after 10 years");
  rules.back() = rule({}, {}, false, 4);
  CHECK(again_words(rules) ==
        "whether to repair again depends on how often it has been repaired; replace after 10 years");
  rules.front() = rule(0, {});
  CHECK(again_words(rules) == "whether to repair again depends on how often it has been repaired");
  rules.front() = rule(1, 10);
  CHECK(again_words(rules) ==
        "whether to repair again depends on how often it has been repaired and on when it fails");
}
