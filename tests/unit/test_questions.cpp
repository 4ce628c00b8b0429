#include <doctest/doctest.h>

#include <set>
#include <string>
#include <vector>

#include "input/questions.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "support/case_text.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::input;
using mendworth::test::near_rel;

namespace {

/// Gives answers that will do.
void say(Answers& answers, const std::vector<std::pair<const char*, const char*>>& said) {
  for (const auto& one : said) {
    CAPTURE(one.second);
    CHECK(answers.give(*find_question(one.first), one.second) == "");
  }
}

std::string refusal(const char* key, const char* answer) {
  Answers answers(built_in_rates());
  return answers.give(*find_question(key), answer);
}

Case case_of(const Answers& answers) {
  REQUIRE_FALSE(answers.trouble().has_value());
  return read_case(case_text(answers), "answers", built_in_rates());
}

}  // namespace

TEST_CASE("every question has a key of its own, words and a usual answer that it takes") {
  Answers answers(built_in_rates());
  std::set<std::string> keys;
  for (const Question& question : questions()) {
    CAPTURE(question.key);
    CHECK(keys.insert(question.key).second);
    CHECK(std::string(question.words).ends_with("?"));
    CHECK(std::string(question.words).size() < 50);
    CHECK(std::string(question.help).ends_with("."));
    CHECK(answers.give(question, question.usual) == "");
    const bool takes_unknown = answers.give(question, "don't know").empty();
    CHECK(takes_unknown == (*question.unknown != '\0'));
  }
}

TEST_CASE("an amount is a number or a range") {
  CHECK(amount_of("0.45") == Quantity::exactly(0.45));
  CHECK(amount_of("2..6") == Quantity::between(2, 6));
  CHECK(amount_of("2 to 6") == Quantity::between(2, 6));
  CHECK(amount_of("2 .. 4 .. 9") == Quantity::three_point(2, 4, 9));
  CHECK(amount_of(".5...9") == Quantity::between(0.5, 0.9));
  for (const char* wrong :
       {"", "x", "2..", "..2", "6..2", "1..2..3..4", "0,45", "-1", "+1", "1e3", "5 EUR", "0x1"})
    CHECK_FALSE(amount_of(wrong).has_value());
}

TEST_CASE("an answer that will not do says what is allowed") {
  CHECK(refusal("part", "0,45") == "wants a point for the decimal mark: 0.45");
  CHECK(refusal("minutes", "60 min").ends_with("write it without a unit"));
  CHECK(refusal("minutes", "200000") == "wants 0 to 100000");
  CHECK(refusal("hours", "25") == "wants 0.001 to 24");
  CHECK(refusal("alike", "1.5") == "wants a whole number from 1 to 1000");
  CHECK(refusal("alike", "unknown") == "wants a whole number from 1 to 1000");
  CHECK(refusal("class", "realy") == "wants a name that is listed; did you mean 'relay'?");
  CHECK(refusal("hazards", "mains, ghosts") ==
        "wants names that are listed; 'ghosts' is none: 'mendworth rates' lists them");
  CHECK(refusal("name", "a\nb") == "wants a text of one line in UTF-8");
}

TEST_CASE("names are taken whatever their case and blanks") {
  Answers answers(built_in_rates());
  say(answers, {{"class", "USB-C receptacle"}, {"hazards", "Mains,solder fume, mains"}});
  CHECK(answers.text("class") == "usb-c-receptacle");
  CHECK(answers.text("hazards") == "mains, solder-fume");
}

TEST_CASE("the case holds what was answered") {
  Answers answers(built_in_rates());
  say(answers, {{"kind", "radio"},
                {"class", "relay"},
                {"alike", "5"},
                {"failed", "2"},
                {"part", "0.45"},
                {"shipping", "4..6"},
                {"new", "85"},
                {"life", "7"},
                {"age", "6"},
                {"use", "30"},
                {"hour", "12"},
                {"hazards", "mains, solder-fume"},
                {"currency", "usd"},
                {"attached", "plug-in"},
                {"skill", "beginner"},
                {"name", "my \"old\" \\ radio"}});
  const Case c = case_of(answers);
  CHECK(c.device.name == "my \"old\" \\ radio");
  CHECK(c.device.currency == "USD");
  CHECK(c.device.age_years == Quantity::exactly(6));
  CHECK(c.device.life_years == Quantity::exactly(7));  // of a new one, which is alike
  CHECK(c.device.use_per_day == Quantity::exactly(30));
  CHECK(c.device.hazards == std::vector<std::string>{"mains", "solder-fume"});
  CHECK(c.positions.at(0).count == 5);
  CHECK(c.positions.at(0).failed == 2);
  CHECK(c.positions.at(0).joints == 0);  // plugged in
  CHECK(c.parts.at(0).life.rated_life == built_in_rates().lives.at("relay").life.rated_life);
  CHECK(c.labour.rate_per_hour == Quantity::exactly(12));
  CHECK(c.labour.skill == "beginner");
  CHECK(c.replacements.at(0).price == Quantity::exactly(85));
  CHECK(c.replacements.at(0).life_years == Quantity::exactly(7));
}

TEST_CASE("minutes of the whole repair add up to what was answered") {
  for (const char* minutes : {"60", "0", "0.05", "7", "480"}) {
    CAPTURE(minutes);
    Answers answers(built_in_rates());
    say(answers, {{"alike", "9"}, {"failed", "3"}, {"minutes", minutes}});
    const Case c = case_of(answers);
    const double sum =
        c.labour.case_minutes.base() + c.labour.visit_minutes.base() + 3 * c.positions.at(0).minutes.base();
    CHECK(near_rel(sum, std::stod(minutes), 1e-9));
  }
  Answers answers(built_in_rates());
  say(answers, {{"minutes", "30..60..120"}});
  const Case c = case_of(answers);
  CHECK(near_rel(c.labour.case_minutes.low() + c.labour.visit_minutes.low() + c.positions.at(0).minutes.low(),
                 30, 1e-9));
  CHECK(near_rel(
      c.labour.case_minutes.high() + c.labour.visit_minutes.high() + c.positions.at(0).minutes.high(), 120,
      1e-9));
}

TEST_CASE("what is not known is a range, or is left to the rates") {
  Answers answers(built_in_rates());
  say(answers, {{"kind", "radio"}, {"age", "8"}});
  const Case c = case_of(answers);
  CHECK_FALSE(c.replacements.at(0).price.has_value());
  CHECK(c.replacements.at(0).life_years == built_in_rates().device_kinds.at("radio").value);
  CHECK(c.device.life_years == c.replacements.at(0).life_years);
  // Derived: of a tactile switch (100,000 + 4 x 300,000 + 1,000,000) / 6 = 383,333 cycles over 8 years of 365.25 days are
  // 131 a day, in two digits 130; a quarter and four times of 131.2 are 33 and 520.
  CHECK(c.device.use_per_day == Quantity::three_point(33, 130, 520));
  // The minutes of the rates.
  CHECK(c.labour.case_minutes == test::read(test::starter_without_minutes()).labour.case_minutes);
}

TEST_CASE("a part whose life is in hours asks how long the device is on") {
  Answers answers(built_in_rates());
  CHECK(answers.applies(*find_question("use")));
  CHECK_FALSE(answers.applies(*find_question("hours")));
  say(answers, {{"class", "sleeve-fan"}, {"age", "0.01"}});
  CHECK_FALSE(answers.applies(*find_question("use")));
  CHECK(answers.applies(*find_question("hours")));
  CHECK(case_of(answers).device.hours_per_day.value().high() <= 24);  // however young the device
}

TEST_CASE("usual amounts hold for one currency, and answers that do not go together are named") {
  Answers answers(built_in_rates());
  say(answers, {{"currency", "JPY"}});
  CHECK(std::string(answers.trouble().value().question->key) == "part");
  say(answers, {{"part", "100"}, {"shipping", "500"}, {"hour", "1500"}});
  CHECK_FALSE(answers.trouble().has_value());
  say(answers, {{"failed", "3"}});
  CHECK_FALSE(answers.trouble().has_value());  // then there are at least three
  CHECK(answers.text("alike") == "3");
  say(answers, {{"alike", "2"}});
  CHECK(std::string(answers.trouble().value().question->key) == "failed");
}

TEST_CASE("whatever is answered makes a case that is read") {
  const std::vector<const char*> amounts = {"1", "0.5", "2..6", "2..4..9", "1000"};
  for (const auto& [name, life] : built_in_rates().lives) {
    Answers answers(built_in_rates());
    say(answers, {{"class", name.c_str()}});
    CHECK_NOTHROW(static_cast<void>(case_of(answers)));
  }
  for (const Question& question : questions()) {
    Answers plain(built_in_rates());
    std::vector<std::string> said = plain.names(question);
    if (question.form == Question::Form::amount) said.assign(amounts.begin(), amounts.end());
    for (const std::string& answer : said) {
      CAPTURE(question.key);
      CAPTURE(answer);
      Answers answers(built_in_rates());
      if (question.key == std::string("currency"))
        say(answers, {{"part", "1"}, {"shipping", "5"}, {"hour", "9"}});
      if (!answers.give(question, answer).empty()) continue;  // beyond its limits
      CHECK_NOTHROW(static_cast<void>(case_of(answers)));
    }
  }
}
