#include <functional>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

// Expected values in this file are derived: they are what the overrides say.

namespace {

using namespace mendworth;

Case read_with(const std::string& text, const std::vector<std::string>& overrides) {
  return read_case(text, "case.toml", built_in_rates(), overrides);
}

Case small_with(const std::vector<std::string>& overrides) {
  return read_with(starter_case(false), overrides);
}
Case full_with(const std::vector<std::string>& overrides) { return read_with(starter_case(true), overrides); }

std::string message(const std::string& text, const std::vector<std::string>& overrides) {
  try {
    static_cast<void>(read_with(text, overrides));
  } catch (const InputError& error) {
    return error.what();
  }
  return "no problem found";
}

std::map<std::string, Quantity> quantities(const Case& c) {
  std::map<std::string, Quantity> all;
  for_each_quantity(c, [&](const std::string& key, const Quantity& q) { all.emplace(key, q); });
  return all;
}

}  // namespace

TEST_CASE("overrides: numbers, ranges, texts, flags, dates") {
  CHECK(small_with({"labour.rate_per_hour=20"}).labour.rate_per_hour == Quantity::exactly(20));
  CHECK(small_with({" labour.rate_per_hour = 20.5 "}).labour.rate_per_hour == Quantity::exactly(20.5));
  CHECK(small_with({"labour.rate_per_hour={ low = 10, likely = 12, high = 20 }"}).labour.rate_per_hour ==
        Quantity::three_point(10, 12, 20));
  CHECK(small_with({"device.name=Old radio"}).device.name == "Old radio");
  CHECK(small_with({"device.name=\"Old radio\""}).device.name == "Old radio");
  CHECK(small_with({"device.must_keep=true"}).device.must_keep);
  CHECK(small_with({"fault.cause=bad-joint"}).fault.cause == Cause::bad_joint);
  CHECK(small_with({"device.guarantee_until=2030-01-31"}).device.guarantee_until == Date{2030, 1, 31});
  CHECK(small_with({"device.hazards=[\"mains\"]"}).device.hazards == std::vector<std::string>{"mains"});
  CHECK_FALSE(small_with({"replacement.1.price=unknown"}).replacements[0].price.has_value());
}

TEST_CASE("overrides: one entry set twice is an error that names both") {
  CHECK(
      message(starter_case(false), {"device.age_years=3", "labour.rate_per_hour=9", "device.age_years=4"}) ==
      "--set: error: device.age_years: set twice, by 'device.age_years=3' and by 'device.age_years=4' (keep "
      "one of the two)");
}

TEST_CASE("overrides: one entry set twice is found under any spelling") {
  const std::string small = starter_case(false);
  const std::string full = starter_case(true);
  const auto twice = [](const std::string& text, const std::string& a, const std::string& b) {
    CAPTURE(a);
    CAPTURE(b);
    const std::string end = ": set twice, by '" + a + "' and by '" + b + "' (keep one of the two)";
    const std::string all = message(text, {a, b});
    CHECK(all.find(end) != std::string::npos);
    CHECK(all.find('\n') == std::string::npos);
  };
  twice(small, "supplier.lead_days=3", "supplier.1.lead_days=4");
  twice(full, "supplier.2.lead_days=3", "supplier.parts from abroad.lead_days=3");
  twice(small, "part.offer.price=3", "part.1.candidate.1.offer.1.price=4");
  twice(small, "part.offer.price=3", "part.offer.prices.1.each=4");
  twice(small, "part.offer.price=3", "part.offer.prices=[{ from = 1, each = 3 }]");
  twice(small, "supplier.shipping=3", "supplier.1.shipping.1.price=4");
  twice(small, "risk.misfit_found=dry", "risk.misfit_found_after_closing=0.5");
  twice(small, "labour.rate_per_hour={ low = 1, high = 5 }", "labour.rate_per_hour.low=2");
  twice(small, "labour.rate_per_hour=7", "labour.rate_per_hour = 7");
  twice(small, "part.fit=0.9", "part.button.candidate.button.fit=0.8");
  twice(small, "part.candidate.fit=0.9", "part.fit=0.8");
}

TEST_CASE("overrides: entries beside each other are not the same one") {
  const Case c = full_with({"part.1.candidate.1.offer.1.prices.1.each=0.5",
                            "part.1.candidate.1.offer.1.prices.2.each=0.4", "supplier.1.lead_days=3",
                            "supplier.2.lead_days=4"});
  CHECK(c.suppliers[1].lead_days == Quantity::exactly(4));
}

TEST_CASE("overrides: a list of shipping tiers takes the place of a list of one") {
  std::string text = starter_case(false);
  const std::string from = "shipping = 4.90";
  REQUIRE(text.find(from) != std::string::npos);
  text.replace(text.find(from), from.size(), "shipping = [{ goods_from = 0, price = 4.90 }]");
  CHECK(read_with(text, {"supplier.shipping=[{ goods_from = 0, price = 3 }, { goods_from = 9, price = 0 }]"})
            .suppliers[0]
            .shipping.size() == 2);
}

TEST_CASE("overrides: a factor of the answers is no entry, and the message names the entries") {
  const std::string small = starter_case(false);
  CHECK(message(small, {"common.lead_days=3"}) ==
        "--set: error: common.lead_days: a factor common to several entries, which cannot be set as one (set "
        "the entries themselves: supplier.lead_days)");
  CHECK(message(small, {"common.shapes=3"}) == "--set: error: common: unknown key");
}

TEST_CASE("overrides: an element by number, by name, or the only one") {
  CHECK(full_with({"supplier.2.lead_days=3"}).suppliers[1].lead_days == Quantity::exactly(3));
  CHECK(full_with({"supplier.parts from abroad.lead_days=3"}).suppliers[1].lead_days == Quantity::exactly(3));
  CHECK(full_with({"replacement.price=80"}).replacements[0].price == Quantity::exactly(80));
  CHECK(full_with({"part.button.candidate.button 6x6, 5 mm.fit=0.5"}).parts[0].candidates[0].fit ==
        Quantity::exactly(0.5));
}

TEST_CASE("overrides: a name with dots is found, the longest one first") {
  const std::string text = starter_case(false) +
                           "\n[[replacement]]\nname = \"mk\"\nprice = 1\nlife_years = 1\n"
                           "[[replacement]]\nname = \"mk.2\"\nprice = 1\nlife_years = 1\n";
  const Case c = read_with(text, {"replacement.mk.2.price=9"});
  CHECK(c.replacements[1].price == Quantity::exactly(1));
  CHECK(c.replacements[2].price == Quantity::exactly(9));
}

TEST_CASE("overrides: a part's own offer is its first candidate's, and the other way round") {
  CHECK(small_with({"part.1.candidate.1.offer.1.price=9"}).parts[0].candidates[0].offers[0].prices[0].each ==
        Quantity::exactly(9));
  CHECK(small_with({"part.1.offer.1.price=9"}).parts[0].candidates[0].offers[0].prices[0].each ==
        Quantity::exactly(9));
  CHECK(small_with({"part.offer.price=9"}).parts[0].candidates[0].offers[0].prices[0].each ==
        Quantity::exactly(9));
  const Case c = small_with({"part.1.candidate.1.fit=0.5", "part.1.offer.1.least=4"});
  CHECK(c.parts[0].candidates[0].fit == Quantity::exactly(0.5));
  CHECK(c.parts[0].candidates[0].offers[0].least == 4);
  CHECK(c.parts[0].candidates[0].name == "button");
}

TEST_CASE("overrides: one price for any quantity replaces a ladder, a ladder one price") {
  const Case flat = full_with({"part.1.candidate.1.offer.1.price=3"});
  REQUIRE(flat.parts[0].candidates[0].offers[0].prices.size() == 1);
  CHECK(flat.parts[0].candidates[0].offers[0].prices[0].each == Quantity::exactly(3));
  const Case ladder = small_with({"part.1.offer.1.prices=[{ from = 1, each = 3 }, { from = 9, each = 2 }]"});
  CHECK(ladder.parts[0].candidates[0].offers[0].prices.size() == 2);
}

TEST_CASE("overrides: a list of one price keeps its quantity") {
  std::string text = starter_case(false);
  const std::string from = "price = 0.45";
  text.replace(text.find(from), from.size(), "prices = [{ from = 10, each = 0.45 }]");
  const Case c = read_with(text, {"part.1.candidate.1.offer.1.price=2"});
  CHECK(c.parts[0].candidates[0].offers[0].prices[0].from == 10);
  CHECK(c.parts[0].candidates[0].offers[0].prices[0].each == Quantity::exactly(2));
}

TEST_CASE("overrides: a section that the case does not have is made") {
  CHECK(small_with({"downtime.per_day=3"}).downtime.per_day == Quantity::exactly(3));
  const Case c = small_with({"risk.second_attempt.minutes=30", "risk.second_attempt.chance=0.5"});
  REQUIRE(c.risks.second_attempt.has_value());
  CHECK(c.risks.second_attempt->minutes == Quantity::exactly(30));
}

TEST_CASE("overrides: what is overridden is no default") {
  for (const DefaultUse& use : small_with({"horizon.years=4"}).defaults) CHECK(use.key != "horizon.years");
}

TEST_CASE("overrides: every key of for_each_quantity sets that quantity and no other") {
  // The full case states every key, so that nothing is derived from anything else - but for a candidate's life.
  const auto check = [](const std::string& text, const std::set<std::string>& inert) {
    const auto before = quantities(read_with(text, {}));
    for (const auto& item : before) {
      const std::string& key = item.first;
      if (inert.count(key) > 0) continue;
      CAPTURE(key);
      // Halving keeps every quantity of the case within its limits, save those that have a floor or are zero.
      double wanted = item.second.low() * 0.5;
      if (key == "labour.learning_rate") wanted = 0.8;
      const Case changed = read_with(text, {key + "=" + std::to_string(wanted)});
      const auto after = quantities(changed);
      REQUIRE(after.count(key) == 1);
      const double set = after.at(key).base();
      CHECK(std::to_string(set) == std::to_string(wanted));
      std::size_t others = 0;
      for (const auto& [other, old_value] : before) {
        const bool inherited = key.find("part.1.") == 0 && other.find("part.1.candidate.") == 0;
        if (other != key && !inherited && !(after.at(other) == old_value)) ++others;
      }
      CHECK(others == 0);
    }
  };
  // A supplier in the case's currency has no rate.
  check(starter_case(true), {"supplier.1.exchange_rate"});
}

TEST_CASE("overrides: the keys of a small case reach what it leaves to defaults") {
  const auto before = quantities(small_with({}));
  // Quantities of things that the case does not have.
  const std::set<std::string> inert = {"device.guarantee_chance", "device.guarantee_days",
                                       "position.1.renewed_years_ago", "supplier.1.exchange_rate"};
  for (const auto& item : before) {
    const std::string& key = item.first;
    if (inert.count(key) > 0) continue;
    if (key == "labour.learning_rate") continue;
    CAPTURE(key);
    const double wanted = item.second.low() * 0.5;
    const Case changed = small_with({key + "=" + std::to_string(wanted)});
    CHECK(std::to_string(quantities(changed).at(key).base()) == std::to_string(wanted));
  }
}

TEST_CASE("overrides: exact messages") {
  const std::string small = starter_case(false);
  const std::string full = starter_case(true);
  const auto check = [](const std::string& text, const std::string& override_, const std::string& expected) {
    CAPTURE(override_);
    CHECK(message(text, {override_}) == expected);
  };
  check(small, "labour.rate_per_hours=3",
        "--set: error: labour.rate_per_hours: unknown key (did you mean 'rate_per_hour'?)");
  check(small, "labor.rate_per_hour=3", "--set: error: labor: unknown key (the section is [labour])");
  check(small, "labour.rate_per_hour=-3",
        "--set: error: labour.rate_per_hour: found -3, allowed is 0 to 1000000000");
  check(small, "labour.rate_per_hour=cheap",
        "--set: error: labour.rate_per_hour: found the text 'cheap', a number or a range { low, high } is "
        "wanted (if it "
        "is not known, write a range: { low = 1, high = 5 })");
  check(small, "labour.rate_per_hour=nan",
        "--set: error: labour.rate_per_hour: found nan, a finite number is wanted");
  check(small, "labour.rate_per_hour={ low = 5, high = 3 }",
        "--set: error: labour.rate_per_hour: the range is out of order: low 5 is above high 3 (write the "
        "lower number "
        "as low)");
  check(small, "labour.rate_per_hour=",
        "--set: error: labour.rate_per_hour: '' is no TOML value (a number, a range { low = 1, high = 5 }, a "
        "date, "
        "true, false or a text)");
  check(small, "labour.rate_per_hour={ low = 5",
        "--set: error: labour.rate_per_hour: '{ low = 5' is no TOML value (a number, a range { low = 1, high "
        "= 5 }, a "
        "date, true, false or a text)");
  check(small, "labour.rate_per_hour",
        "--set: error: found 'labour.rate_per_hour', key=value is wanted (for instance "
        "labour.rate_per_hour=20)");
  check(small, "=3", "--set: error: found '=3', key=value is wanted (for instance labour.rate_per_hour=20)");
  check(small, "labour..x=3", "--set: error: labour..x: the key has an empty part");
  check(small, "labour.rate_per_hour.now=3",
        "--set: error: labour.rate_per_hour.now: 'rate_per_hour' is the number 12, it holds no 'now'");
  check(small, "replacement.2.price=3",
        "--set: error: replacement.2.price: there is no replacement 2: the case has 1");
  check(small, "consumable.price=3",
        "--set: error: consumable.price: there is no consumable to change (an override changes what the case "
        "has)");
  check(full, "supplier.lead_days=3",
        "--set: error: supplier.lead_days: which supplier? The case has 2 (name it by number or name: "
        "supplier.1.lead_days)");
  check(full, "supplier.parts by pots.lead_days=3",
        "--set: error: supplier.parts by pots.lead_days: which supplier? The case has 2 (did you mean 'parts "
        "by "
        "post'?)");
  check(full, "supplier.1=3", "--set: error: supplier.1: one entry of the supplier must be named");
}

TEST_CASE("overrides: problems of the file come first, those of overrides after them") {
  std::string text = starter_case(false);
  const std::string from = "price = 160";
  text.replace(text.find(from), from.size(), "price = -160");
  CHECK(message(text, {"device.age_years=0", "labour.rate=1"}) ==
        "case.toml:36:9: error: replacement.1.price: found -160, allowed is 0 to 1000000000\n"
        "--set: error: device.age_years: found 0, allowed is 0.001 to 1000\n"
        "--set: error: labour.rate: unknown key (write rate_per_hour)");
}
