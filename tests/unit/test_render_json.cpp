#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "support/json_schema.hpp"
#include "support/sample_weighing.hpp"

using namespace mendworth;
using Json = nlohmann::json;

namespace {

Weighing everything() {
  Weighing w = testing::weighing();
  w.guarantee = GuaranteeAnswer{Date{2027, 1, 2}, true, 55.5, 4};
  w.unpriced = Unpriced{31.5, {{20, 0}, {60, 28.5}}};
  w.options[0].again = {{.part = "button", .from_years = 0, .to_years = 4.1},
                        {.part = "button", .spare_at_hand = true, .from_years = 0}};
  w.evidence[0].early_chance = 0.004;
  w.another_cause = AnotherCause{.futures = 4096, .verdict = w.verdict, .repair_pays_from = 20};
  w.break_evens[0].intervals = {{43.1, 43.3}};
  return w;
}

}  // namespace

TEST_CASE("the JSON of a weighing satisfies its schema, and the schema knows every key") {
  const Json schema = Json::parse(weighing_schema());
  testing::SchemaValidator validator(schema);
  CHECK(validator.problems(Json::parse(weighing_json(everything()))) == std::vector<std::string>{});
  CHECK(validator.problems(Json::parse(weighing_json(testing::weighing()))) == std::vector<std::string>{});

  Weighing empty;
  empty.currency = "EUR";
  empty.settings.futures = 2048;
  CHECK(validator.problems(Json::parse(weighing_json(empty))) == std::vector<std::string>{});
}

TEST_CASE("the JSON has the rule for later failures as data and as a sentence, and doubts about wear") {
  const Json json = Json::parse(weighing_json(everything()));
  const Json& repair = json["options"][0];
  CHECK(repair["again"][0]["to_years"] == 4.1);
  CHECK(repair["again"][1]["to_years"].is_null());
  CHECK(repair["later_rule"] ==
        "repair again with a spare at hand always, without one within 4 years; else replace");
  CHECK(json["options"][1]["later_rule"].is_null());
  CHECK(json["evidence"][0]["wear_hardly_explains"] == true);
  CHECK(json["another_cause"]["cause"] == "bad-joint");
  CHECK(json["another_cause"]["verdict"]["saving_amount"] == 41.125);
  CHECK(json["break_evens"][0]["turning_intervals"][0]["high_value"] == 43.3);
  CHECK(json["verdict"]["agreeing_share"] == 0.912);
}

TEST_CASE("the schema finds what is wrong") {
  const Json schema = Json::parse(weighing_schema());
  testing::SchemaValidator validator(schema);
  Json json = Json::parse(weighing_json(testing::weighing()));
  json["verdict"]["repair_cheaper_share"] = 1.5;
  CHECK(validator.problems(json) == std::vector<std::string>{"/verdict/repair_cheaper_share: is too large"});
  json = Json::parse(weighing_json(testing::weighing()));
  json.erase("options");
  CHECK(validator.problems(json) == std::vector<std::string>{": lacks options"});
  json = Json::parse(weighing_json(testing::weighing()));
  json["order"]["landed_cost"] = "12";
  CHECK_FALSE(validator.problems(json).empty());
}

TEST_CASE("the JSON begins with its schema name and keeps numbers unrounded") {
  const std::string text = weighing_json(everything());
  CHECK(text.starts_with("{\n  \"schema\": \"mendworth.weighing\",\n  \"version\": 2,\n"));
  CHECK(text.ends_with("}\n"));
  const Json json = Json::parse(text);
  CHECK(json["verdict"]["saving_amount"] == 41.125);
  CHECK(json["settings"] == Json({{"seed", 7}, {"futures", 100000}, {"today", "2026-03-01"}}));
  CHECK(json["options"][0]["made_of"]["leftovers_cost"] == -0.5);
  CHECK(json["options"][0]["futures"] == 100'000);
  CHECK(json["options"][2]["futures"] == 8192);
  CHECK(json["break_evens"][2]["turning_values"] == Json({31.5, 80}));
  CHECK(json["guarantee"]["until"] == "2027-01-02");
  CHECK(json["own_time"]["turning_rate_per_hour_price"] == 53.4);
}

TEST_CASE("what is not there is null, never missing") {
  Weighing w = testing::weighing();
  w.order.reset();
  w.payback->ahead_from_years.reset();
  w.verdict.saving.reset();
  const Json json = Json::parse(weighing_json(w));
  CHECK(json["order"].is_null());
  CHECK(json["guarantee"].is_null());
  CHECK(json["payback"]["ahead_from_years"].is_null());
  CHECK(json["verdict"]["saving_amount"].is_null());
}

TEST_CASE("a number that is not finite is a fault, not a null") {
  Weighing w = testing::weighing();
  w.options[1].parts.resale = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(static_cast<void>(weighing_json(w)), std::logic_error);
  w = testing::weighing();
  w.break_evens[2].values[1] = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(static_cast<void>(weighing_json(w)), std::logic_error);
}

TEST_CASE("the number of threads shows nowhere") {
  Weighing w = testing::weighing();
  const std::string one = weighing_json(w) + weighing_page(w, {.show = {"all"}});
  w.settings.threads = 8;
  CHECK(weighing_json(w) + weighing_page(w, {.show = {"all"}}) == one);
}

TEST_CASE("bytes that are no UTF-8 do not stop the answer") {
  Weighing w = testing::weighing();
  w.source_name = "caf\xE9.toml";
  CHECK(Json::parse(weighing_json(w))["source_name"] == "caf\xEF\xBF\xBD.toml");
}

TEST_CASE("the JSON of rates and of checked files satisfies its schema") {
  const Json rates = Json::parse(rates_schema());
  CHECK(testing::SchemaValidator(rates).problems(Json::parse(rates_json(built_in_rates()))).empty());
  const Json check = Json::parse(check_schema());
  const std::vector<CheckedFile> files = {
      {"a.toml", "case", {{"a.toml", 3, 7, "device.name", "missing", "write it", "[device]"}}, ""},
      {"b.csv", "unknown", {}, "b.csv: there is no such file"},
      {"c.csv", "drawer", {}, ""}};
  const Json json = Json::parse(check_json(files));
  CHECK(testing::SchemaValidator(check).problems(json).empty());
  CHECK(json["files"][0]["ok"] == false);
  CHECK(json["files"][0]["problems"][0]["excerpt"] == "[device]");
  CHECK(json["files"][1]["ok"] == false);
  CHECK(json["files"][2]["ok"] == true);
}

TEST_CASE("every rate is in the JSON with its source") {
  const RateBook& rates = built_in_rates();
  const Json json = Json::parse(rates_json(rates));
  CHECK(json["schema"] == "mendworth.rates");
  CHECK(json["lives"].size() == rates.lives.size());
  CHECK(json["operations"].size() == rates.operations.size());
  CHECK(json["terminations"].size() == rates.terminations.size());
  CHECK(json["skills"].size() == rates.skills.size());
  CHECK(json["hazards"].size() == rates.hazards.size());
  CHECK(json["defaults"].size() == rates.defaults.size());
  CHECK(json["currencies"].size() == rates.currencies.size());
  for (const char* table :
       {"lives", "operations", "terminations", "skills", "hazards", "defaults", "currencies"}) {
    for (const auto& entry : json[table].items()) {
      const std::string name = entry.key();
      CAPTURE(table);
      CAPTURE(name);
      CHECK_FALSE(entry.value()["source"].get<std::string>().empty());
    }
  }
}

TEST_CASE("a curve for which no number of futures was asked says so, and satisfies its schema") {
  Curve curve;
  curve.command = "weigh";
  curve.value_name = "saving";
  curve.currency = "EUR";
  curve.minor_digits = 2;
  curve.keys = {{"replacement.price", 60, 180, 1}};
  curve.points.resize(2);
  curve.points[0].at = {60};
  curve.points[1].at = {180};
  const Json schema = Json::parse(curve_schema());
  CHECK(testing::SchemaValidator(schema).problems(Json::parse(curve_json(curve))) ==
        std::vector<std::string>{});
  CHECK(curve_page(curve, {}).find("as many futures") != std::string::npos);
}
