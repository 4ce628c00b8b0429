#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "support/case_text.hpp"
#include "support/near.hpp"

// Expected values in this file are derived: they are what the text of the case or the rates say.

namespace {

using namespace mendworth;
using namespace mendworth::test;

const char* const fan_case = R"(
[device]
name = "Lamp dimmer"
currency = "EUR"
age_years = { low = 2, high = 6 }
hours_per_day = 5
must_keep = true
[[position]]
name = "fan"
part = "fan"
failed = 1
termination = "plug-in"
[[part]]
name = "fan"
rated_life = 40_000
life_unit = "hours"
[[part.offer]]
price = 9
[[supplier]]
name = "parts by post"
shipping = 0
[labour]
rate_per_hour = 0
)";

}  // namespace

TEST_CASE("read_case: the starter cases can be read") {
  const Case small = read(starter_case(false));
  CHECK(small.device.name == "Kitchen radio");
  CHECK(small.positions.size() == 1);
  CHECK(small.positions[0].count == 5);
  CHECK(small.positions[0].failed == 1);
  CHECK(small.source_name == "case.toml");
  const Case full = read(starter_case(true));
  CHECK(full.defaults.empty());
  CHECK(full.parts[0].candidates.size() == 2);
  CHECK(full.licensed_repair.has_value());
}

TEST_CASE("read_case: the smallest starter case is short") {
  int lines = 0;
  std::string line;
  for (const char c : starter_case(false)) {
    if (c != '\n') {
      line += c;
      continue;
    }
    if (!line.empty() && line.front() != '#') ++lines;
    line.clear();
  }
  CHECK(lines < 27);
  CHECK(lines > 10);
}

TEST_CASE("read_case: the smallest starter case names every class and hazard, and its parts last years") {
  const std::string text = starter_case(false);
  for (const auto& [name, life] : built_in_rates().lives) CHECK(text.find(name) != std::string::npos);
  for (const auto& [name, hazard] : built_in_rates().hazards) CHECK(text.find(name) != std::string::npos);
  for (const bool every_key : {false, true}) {
    const Case c = read(starter_case(every_key));
    const double years = c.parts[0].life.rated_life.base() / (c.device.use_per_day->base() * 365.25);
    CHECK(years > c.device.age_years.base() / 2);
    CHECK(years < 2 * c.device.age_years.base());
  }
}

TEST_CASE("read_case: a range keeps its points and its spread") {
  const std::string text = starter_case(false);
  const Case two = read(replaced(text, "age_years = 6", "age_years = { low = 4, high = 8.5 }"));
  CHECK(two.device.age_years == Quantity::between(4, 8.5));
  const Case three = read(replaced(text, "age_years = 6", "age_years = { low = 4, likely = 5, high = 9 }"));
  CHECK(three.device.age_years == Quantity::three_point(4, 5, 9, Spread::beta));
  const Case triangle = read(replaced(
      text, "age_years = 6", "age_years = { low = 4, likely = 5, high = 9, spread = \"triangular\" }"));
  CHECK(triangle.device.age_years == Quantity::three_point(4, 5, 9, Spread::triangular));
}

TEST_CASE("read_case: what is left out is taken from the rates and listed") {
  const RateBook& rates = built_in_rates();
  const Case c = read(starter_case(false));

  CHECK(c.labour.skill == "careful-amateur");
  REQUIRE(find_default(c, "labour.skill") != nullptr);
  CHECK(c.risks.joint_mendable == rates.skills.at("careful-amateur").joint_mendable);
  REQUIRE(find_default(c, "risk.joint_mendable") != nullptr);
  CHECK(find_default(c, "risk.joint_mendable")->source == rates.skills.at("careful-amateur").source);

  CHECK(c.positions[0].termination == "through-hole-4-leg");
  CHECK(c.positions[0].joints == 4);
  // 4 + 2 + 2, low 2 + 1 + 1, high 10 + 5 + 4: (4 + 4 x 8 + 19)/6. Variances: (mean - low)(high - mean)/7 of each,
  // with the means 14/3, 7/3 and 13/6.
  CHECK(near_rel(c.positions[0].minutes.base(), 55.0 / 6, 1e-12));
  CHECK(near_rel(c.positions[0].minutes.variance(),
                 (8.0 / 3 * 16 / 3 + 4.0 / 3 * 8 / 3 + 7.0 / 6 * 11 / 6) / 7, 1e-12));
  REQUIRE(find_default(c, "position.1.minutes") != nullptr);
  CHECK(find_default(c, "position.1.minutes")->value.find("min: through-hole-4-leg") != std::string::npos);

  CHECK(c.parts[0].life.rated_life == rates.lives.at("tactile-switch").life.rated_life);
  CHECK(c.parts[0].candidates.size() == 1);
  CHECK(c.parts[0].candidates[0].name == "button");
  CHECK(c.parts[0].candidates[0].life.rated_life == c.parts[0].life.rated_life);
  CHECK(find_default(c, "part.1.candidate.1.fit") != nullptr);
  CHECK(find_default(c, "part.1.rated_life")->source == rates.lives.at("tactile-switch").source);

  CHECK(c.downtime.per_day == Quantity::exactly(0));
  CHECK(find_default(c, "downtime.per_day") != nullptr);
  CHECK(find_default(c, "device.resale") != nullptr);
  CHECK(find_default(c, "device.scrap") == nullptr);
  for (const DefaultUse& use : c.defaults) {
    CAPTURE(use.key);
    CHECK_FALSE(use.value.empty());
    CHECK_FALSE(use.source.empty());
  }
}

TEST_CASE("read_case: minutes by default are the sum of the named operations") {
  const RateBook& rates = built_in_rates();
  const Case c = read(test::starter_without_minutes());
  double once = 0;
  for (const std::string& name : rates.default_names.at("labour.case_minutes").names) {
    once += rates.operations.at(name).value.base();
  }
  CHECK(near_rel(c.labour.case_minutes.base(), once, 1e-12));
  double variance = 0;
  for (const std::string& name : rates.default_names.at("labour.case_minutes").names)
    variance += rates.operations.at(name).value.variance();
  CHECK(near_rel(c.labour.case_minutes.variance(), variance, 1e-12));
  double visit = 0;
  for (const std::string& name : rates.default_names.at("labour.visit_minutes").names) {
    visit += rates.operations.at(name).value.base();
  }
  CHECK(near_rel(c.labour.visit_minutes.base(), visit, 1e-12));
}

TEST_CASE("read_case: the need goes on unless the case says when it ends") {
  CHECK_FALSE(read(starter_case(false)).horizon.years.has_value());
  CHECK(read(starter_case(false) + "[horizon]\nyears = 4\n").horizon.years == Quantity::exactly(4));
  CHECK(messages(starter_case(false) + "[horizon]\ndiscount_rate = -0.01\n") ==
        "case.toml:51:17: error: horizon.discount_rate: found -0.01: at a rate below 0 a need that goes on "
        "costs "
        "without end (write 0 or more, or say with horizon.years when the need ends)");
  CHECK(read(starter_case(false) + "[horizon]\nyears = 4\ndiscount_rate = -0.01\n").horizon.discount_rate ==
        Quantity::exactly(-0.01));
  CHECK(messages(starter_case(false) + "[horizon]\ncount_unused_life = true\n") ==
        "case.toml:51:21: error: horizon.count_unused_life: is needed no longer: the need for a device goes "
        "on, "
        "so no life is left unused at its end (leave it out; years says when a need ends)");
}

TEST_CASE("read_case: the rest lasts as stated, or as a device of its life, its kind, or alike to it") {
  const std::string plain = starter_case(false);
  const std::string kind = replaced(plain, "age_years = 6", "age_years = 6\nkind = \"radio\"");
  const std::string life = replaced(kind, "age_years = 6", "age_years = 6\nlife_years = 11");
  const std::string alike =
      "\n[[replacement]]\nname = \"another\"\nprice = 30\nlife_years = 3\n"
      "[[replacement]]\nname = \"like it\"\nprice = \"unknown\"\nlife_years = 8\nalike = true\n";
  const auto& kinds = built_in_rates().device_kinds;

  const Case stated = read(kind + alike + "[rest]\nremaining_years = 4\n");
  CHECK(stated.rest.remaining_years == Quantity::exactly(4));
  CHECK(stated.device.life_years == Quantity{});
  CHECK(stated.device.kind == "radio");
  CHECK(find_default(stated, "device.life_years") == nullptr);

  const Case by_life = read(life + alike);
  CHECK_FALSE(by_life.rest.remaining_years.has_value());
  CHECK(by_life.device.life_years == Quantity::exactly(11));
  CHECK(find_default(by_life, "device.life_years") == nullptr);

  const Case by_kind = read(kind + alike);
  CHECK(by_kind.device.life_years == kinds.at("radio").value);
  REQUIRE(find_default(by_kind, "device.life_years") != nullptr);
  CHECK(find_default(by_kind, "device.life_years")->source == kinds.at("radio").source);

  const Case by_alike = read(plain + alike);
  CHECK(by_alike.device.life_years == Quantity::exactly(8));
  REQUIRE(find_default(by_alike, "device.life_years") != nullptr);
  CHECK(find_default(by_alike, "device.life_years")->value == "8 years: that of 'like it'");

  CHECK(read(plain).device.life_years == kinds.at("other").value);
  CHECK(read(fan_case).device.life_years == kinds.at("other").value);
}

TEST_CASE("read_case: a device's life is stated once, and its kind is one of the rates") {
  const std::string plain = starter_case(false);
  CHECK(
      messages(replaced(plain, "age_years = 6", "age_years = 6\nlife_years = 9") +
               "[rest]\nremaining_years = 4\n") ==
      "case.toml:9:14: error: device.life_years: rest.remaining_years already says how long the device lasts "
      "from now (keep one of the two)");
  CHECK(messages(replaced(plain, "age_years = 6", "age_years = 6\nkind = \"radioo\"")) ==
        "case.toml:9:8: error: device.kind: there is no kind of device 'radioo' (did you mean 'radio'?)");
}

TEST_CASE("read_case: no replacement that is added changes what is thought about the device itself") {
  const std::string dear = "\n[[replacement]]\nname = \"better\"\nprice = 400\nlife_years = 20\n";
  const std::string cheap = "\n[[replacement]]\nname = \"worse\"\nprice = 9\nlife_years = 1\n";
  const Case one = read(starter_case(false));
  for (const std::string& more : {dear, cheap}) {
    const Case two = read(starter_case(false) + more);
    CHECK(two.device.life_years == one.device.life_years);
    CHECK(two.horizon.years == one.horizon.years);
  }
}

TEST_CASE("read_case: numbers that are right one by one may be wrong together") {
  const std::string text = replaced(fan_case, "rated_life = 40_000", "rated_life = 0.5");
  CHECK(messages(text) ==
        "case.toml:15:14: error: part.1.rated_life: a life of 0.5 hours is used up in 0.0002738 years, "
        "allowed is "
        "0.001 or more (device.hours_per_day and position.share say how fast) (one of these is in another "
        "unit than "
        "it should be)");
  CHECK(messages(replaced(fan_case, "rated_life = 40_000", "rated_life = 1e12\nshape = 1"))
            .find("lasts 547,569,0") == std::string::npos);
  CHECK(messages(replaced(replaced(fan_case, "rated_life = 40_000", "rated_life = 1e12"), "= 5", "= 0.002"))
            .find("part.1.rated_life: a life of 1000000000000 hours lasts") != std::string::npos);
  CHECK(
      messages(replaced(fan_case, "{ low = 2, high = 6 }", "1000\nlife_years = 0.5"))
          .find("device.age_years: an age of 1000 years is beyond all that a device with a life of 0.5 years "
                "reaches") != std::string::npos);
  CHECK(messages(replaced(fan_case, "hours_per_day = 5", "hours_per_day = { low = 0.001, high = 20 }")) ==
        "case.toml:6:17: error: device.hours_per_day: the ends 0.001 and 20 are too far apart: high is at "
        "most 10000 "
        "times low (a range this wide says nothing: state what is likely)");
}

TEST_CASE("read_case: a fleet whose need goes on is supplied for some years") {
  const std::string fleet = starter_case(false) + "[bulk]\ndevices = 4\n";
  const Case c = read(fleet);
  CHECK(c.bulk->years == built_in_rates().defaults.at("bulk.years").value.base());
  CHECK(find_default(c, "bulk.years") != nullptr);
  const Case ends = read(fleet + "[horizon]\nyears = 3\n");
  CHECK_FALSE(ends.bulk->years.has_value());
  CHECK(find_default(ends, "bulk.years")->value == "3 years");
}

TEST_CASE("read_case: a part without a class takes shape and spreads from the rates") {
  const Case c = read(fan_case);
  CHECK(c.parts[0].life.unit == LifeUnit::hours);
  CHECK(c.parts[0].life.rated_life == Quantity::exactly(40'000));
  CHECK(c.parts[0].life.shape == built_in_rates().defaults.at("part.shape").value);
  CHECK(c.parts[0].life.failed_at_rated == 0.1);
  CHECK(c.parts[0].life.life_spread == 2.0);
  for (const char* key :
       {"part.1.shape", "part.1.failed_at_rated", "part.1.life_spread", "part.1.shape_spread"}) {
    CAPTURE(key);
    CHECK(find_default(c, key) != nullptr);
  }
  CHECK(find_default(c, "part.1.rated_life") == nullptr);
}

TEST_CASE("read_case: a rate of zero is legal") {
  CHECK(read(fan_case).labour.rate_per_hour == Quantity::exactly(0));
}

TEST_CASE("read_case: minutes and joints stated for a position need no termination") {
  const Case c = read(replaced(fan_case, "termination = \"plug-in\"", "minutes = 12\njoints = 3"));
  CHECK(c.positions[0].minutes == Quantity::exactly(12));
  CHECK(c.positions[0].joints == 3);
  CHECK(c.positions[0].termination.empty());
  CHECK(find_default(c, "position.1.termination") == nullptr);
}

TEST_CASE("read_case: labour.position_minutes stands in for positions that do not say their own") {
  const Case c = read(replaced(fan_case, "rate_per_hour = 0", "rate_per_hour = 0\nposition_minutes = 7"));
  CHECK(c.positions[0].minutes == Quantity::exactly(7));
  CHECK(find_default(c, "position.1.minutes") == nullptr);
  CHECK(c.positions[0].joints == 0);  // of plug-in
  CHECK(find_default(c, "position.1.joints") != nullptr);
}

TEST_CASE("read_case: a candidate inherits the part's life and chance of a dead piece") {
  const std::string text = replaced(fan_case, "[[part.offer]]\nprice = 9\n", R"(dead_on_arrival = 0.03
[[part.candidate]]
name = "quiet"
[[part.candidate.offer]]
price = 9
[[part.candidate]]
name = "loud"
dead_on_arrival = 0.5
class = "ball-bearing-fan"
[[part.candidate.offer]]
price = 8
)");
  const Case c = read(text);
  REQUIRE(c.parts[0].candidates.size() == 2);
  const Candidate& quiet = c.parts[0].candidates[0];
  const Candidate& loud = c.parts[0].candidates[1];
  CHECK(quiet.dead_on_arrival == Quantity::exactly(0.03));
  CHECK(quiet.life.rated_life == Quantity::exactly(40'000));
  CHECK(loud.dead_on_arrival == Quantity::exactly(0.5));
  CHECK(loud.life.rated_life == built_in_rates().lives.at("ball-bearing-fan").life.rated_life);
  CHECK(find_default(c, "part.1.candidate.2.rated_life") != nullptr);
  CHECK(find_default(c, "part.1.candidate.1.rated_life") == nullptr);
}

TEST_CASE("read_case: learning has a floor only where there is learning") {
  CHECK(read(fan_case).labour.learning_floor == 0);
  const Case c = read(replaced(fan_case, "rate_per_hour = 0", "rate_per_hour = 0\nlearning_rate = 0.9"));
  CHECK(c.labour.learning_floor == 0.55);
  CHECK(find_default(c, "labour.learning_floor") != nullptr);
}

TEST_CASE("read_case: a spill has a common cause, wear has none") {
  CHECK(read(fan_case).fault.common_cause_chance == Quantity::exactly(0));
  const Case c = read(std::string(fan_case) + "[fault]\ncause = \"spill\"\n");
  CHECK(c.fault.cause == Cause::spill);
  CHECK(c.fault.common_cause_chance == built_in_rates().defaults.at("fault.common_cause_chance").value);
  CHECK(find_default(c, "fault.common_cause_chance") != nullptr);
  CHECK_FALSE(c.fault.burden_per_year.has_value());
}

TEST_CASE("read_case: price breaks, tiers, a ladder that starts above one") {
  std::string text =
      replaced(fan_case, "price = 9", "prices = [{ from = 5, each = 9 }, { from = 10, each = 7 }]");
  text = replaced(text, "shipping = 0",
                  "shipping = [{ goods_from = 0, price = 5 }, { goods_from = 30, price = 0 }]");
  const Case c = read(text);
  const Offer& offer = c.parts[0].candidates[0].offers[0];
  REQUIRE(offer.prices.size() == 2);
  CHECK(offer.prices[1].from == 10);
  CHECK(offer.prices[1].each == Quantity::exactly(7));
  CHECK(offer.least == 5);
  REQUIRE(c.suppliers[0].shipping.size() == 2);
  CHECK(c.suppliers[0].shipping[1].goods_from == 30);
}

TEST_CASE("read_case: a supplier in another currency") {
  const Case c =
      read(replaced(fan_case, "shipping = 0", "shipping = 0\ncurrency = \"JPY\"\nexchange_rate = 0.006"));
  CHECK(c.suppliers[0].currency == "JPY");
  CHECK(c.suppliers[0].exchange_rate == Quantity::exactly(0.006));
  CHECK(find_default(c, "supplier.1.exchange_fee") != nullptr);
  const Case home = read(fan_case);
  CHECK(home.suppliers[0].currency == "EUR");
  CHECK(home.suppliers[0].exchange_rate == Quantity::exactly(1));
  CHECK(home.suppliers[0].exchange_fee == Quantity::exactly(0));
}

TEST_CASE("read_case: the currency brings its digits") {
  CHECK(read(fan_case).device.minor_digits == 2);
  CHECK(read(replaced(fan_case, "\"EUR\"", "\"JPY\"")).device.minor_digits == 0);
  CHECK(read(replaced(fan_case, "\"EUR\"", "\"KWD\"")).device.minor_digits == 3);
}

TEST_CASE("read_case: a guarantee brings its chance and its wait") {
  const Case c =
      read(replaced(fan_case, "must_keep = true", "must_keep = true\nguarantee_until = 2030-02-28"));
  REQUIRE(c.device.guarantee_until.has_value());
  CHECK(*c.device.guarantee_until == Date{2030, 2, 28});
  CHECK(find_default(c, "device.guarantee_chance") != nullptr);
}

TEST_CASE("read_case: CRLF and a byte order mark are no problem") {
  std::string text = "\xEF\xBB\xBF";
  for (const char* p = fan_case; *p != '\0'; ++p)
    text += *p == '\n' ? std::string("\r\n") : std::string(1, *p);
  CHECK(read(text).device.name == "Lamp dimmer");
}

TEST_CASE("read_case: no default is made up when the rates hold none") {
  RateBook rates = built_in_rates();
  rates.defaults.erase("rest.shape");
  rates.default_names.erase("labour.skill");
  try {
    static_cast<void>(read_case(fan_case, "case.toml", rates));
    FAIL("no problem found");
  } catch (const InputError& error) {
    const std::string text = error.what();
    CHECK(text.find("rest.shape: missing, and the rates hold no default 'rest.shape'") != std::string::npos);
    CHECK(text.find("labour.skill: missing, and the rates hold no default name 'labour.skill'") !=
          std::string::npos);
  }
  CHECK_THROWS_AS(static_cast<void>(read_case(fan_case, "case.toml", RateBook{})), InputError);
}

TEST_CASE("read_case: defaults are listed in the order of a case") {
  std::string sections;
  for (const DefaultUse& use : read(starter_case(false)).defaults) {
    const std::string section = use.key.substr(0, use.key.find('.'));
    if (sections.size() < section.size() || sections.substr(sections.size() - section.size()) != section) {
      sections += ' ' + section;
    }
  }
  CHECK(sections == " device fault position part supplier labour risk replacement rest downtime horizon");
}

TEST_CASE("read_case: many problems are cut off with their number") {
  std::string text = fan_case;
  for (int i = 0; i < 300; ++i) text += "key_" + std::to_string(i) + " = 1\n";
  try {
    static_cast<void>(read(text));
    FAIL("no problem found");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 201);
    CHECK(error.problems().back().text() == "case.toml: error: and 100 more problems");
  }
}

TEST_CASE("read_case: too large a text is refused before it is parsed") {
  const std::string text(largest_case_file + 1, '#');
  CHECK(messages(text) == "case.toml: error: larger than 1048576 bytes: this is no case file");
}

TEST_CASE("read_case: a skill stretches the minutes of the rates, not those that are stated") {
  // Derived: the factors are those of the skill table; the case states 10 minutes an opening.
  const RateBook& rates = built_in_rates();
  const double factor = rates.skills.at("beginner").minutes_factor;
  REQUIRE(factor > 1.0);
  const std::vector<std::string> beginner = {"labour.skill=beginner", "labour.visit_minutes=10"};
  const std::string text = test::starter_without_minutes();
  const Case plain = read_case(text, "case.toml", rates, {"labour.visit_minutes=10"});
  const Case slow = read_case(text, "case.toml", rates, beginner);
  CHECK(near_rel(slow.labour.case_minutes.base(), factor * plain.labour.case_minutes.base(), 1e-12));
  CHECK(near_rel(slow.positions[0].minutes.base(), factor * plain.positions[0].minutes.base(), 1e-12));
  CHECK(near_rel(slow.risks.mend_minutes.base(), factor * plain.risks.mend_minutes.base(), 1e-12));
  CHECK(slow.labour.visit_minutes == Quantity::exactly(10));
  CHECK(find_default(slow, "labour.case_minutes")->value.find("beginner (times 2)") != std::string::npos);
}

TEST_CASE("ten thousand positions are one problem, and those that are there are not missed") {
  std::string text = starter_case(false);
  for (int i = 0; i < 10'000; ++i) {
    text += "[[position]]\nname = \"p" + std::to_string(i) + "\"\npart = \"button\"\n";
  }
  CHECK(messages(text) == "case.toml:12:1: error: position: found 10001 of them, at most 100 are allowed");
}
