#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <regex>
#include <stdexcept>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "support/sample_weighing.hpp"

using namespace mendworth;
using Json = nlohmann::json;

namespace {

bool has_type(const Json& value, const std::string& type) {
  if (type == "null") return value.is_null();
  if (type == "boolean") return value.is_boolean();
  if (type == "string") return value.is_string();
  if (type == "integer") return value.is_number_integer();
  if (type == "number") return value.is_number();
  if (type == "array") return value.is_array();
  return type == "object" && value.is_object();
}

// The part of JSON Schema draft-07 that our schema uses; stricter in one point: a key that the schema does not
// name is a problem, so that the schema cannot lag behind the writer.
class Validator {
 public:
  explicit Validator(const Json& schema) : root_(schema) {}

  std::vector<std::string> problems(const Json& value) {
    problems_.clear();
    check(value, root_, "");
    return problems_;
  }

 private:
  void say(const std::string& where, const std::string& what) { problems_.push_back(where + ": " + what); }

  bool fits_one(const Json& value, const Json& alternatives) const {
    for (const Json& alternative : alternatives) {
      Validator inner(root_);
      inner.check(value, alternative, "");
      if (inner.problems_.empty()) return true;
    }
    return false;
  }

  void check(const Json& value, const Json& schema, const std::string& where) {
    if (schema.contains("$ref")) {
      const std::string name = schema["$ref"].get<std::string>().substr(std::string("#/definitions/").size());
      check(value, root_["definitions"].at(name), where);
      return;
    }
    if (schema.contains("anyOf") && !fits_one(value, schema["anyOf"])) say(where, "fits no alternative");
    if (schema.contains("const") && value != schema["const"]) say(where, "is not the constant");
    if (schema.contains("enum")) {
      bool found = false;
      for (const Json& known : schema["enum"]) found = found || known == value;
      if (!found) say(where, "is none of the known words");
    }
    if (schema.contains("type")) check_type(value, schema["type"], where);
    if (schema.contains("minimum") && value.is_number() && value < schema["minimum"])
      say(where, "is too small");
    if (schema.contains("maximum") && value.is_number() && value > schema["maximum"])
      say(where, "is too large");
    if (schema.contains("pattern") && value.is_string() &&
        !std::regex_match(value.get<std::string>(), std::regex(schema["pattern"].get<std::string>()))) {
      say(where, "does not match");
    }
    if (schema.contains("items") && value.is_array()) {
      for (const Json& item : value) check(item, schema["items"], where + "[]");
    }
    if (schema.contains("properties") && value.is_object()) check_object(value, schema, where);
  }

  void check_type(const Json& value, const Json& types, const std::string& where) {
    bool fits = false;
    if (types.is_string()) {
      fits = has_type(value, types.get<std::string>());
    } else {
      for (const Json& type : types) fits = fits || has_type(value, type.get<std::string>());
    }
    if (!fits) say(where, "has the wrong type");
  }

  void check_object(const Json& value, const Json& schema, const std::string& where) {
    for (const Json& key : schema["required"]) {
      if (!value.contains(key.get<std::string>())) say(where, "lacks " + key.get<std::string>());
    }
    for (const auto& [key, entry] : value.items()) {
      if (schema["properties"].contains(key)) {
        check(entry, schema["properties"][key], where + "/" + key);
      } else {
        say(where, "the schema does not know " + key);
      }
    }
  }

  const Json& root_;
  std::vector<std::string> problems_;
};

Weighing everything() {
  Weighing w = testing::weighing();
  w.guarantee = GuaranteeAnswer{Date{2027, 1, 2}, true, 55.5, 4};
  w.verdict.saving_unused_life_counted = 40.5;
  w.unpriced = Unpriced{31.5, {{20, 0}, {60, 28.5}}};
  return w;
}

}  // namespace

TEST_CASE("the JSON of a weighing satisfies its schema, and the schema knows every key") {
  const Json schema = Json::parse(weighing_schema());
  Validator validator(schema);
  CHECK(validator.problems(Json::parse(weighing_json(everything()))) == std::vector<std::string>{});
  CHECK(validator.problems(Json::parse(weighing_json(testing::weighing()))) == std::vector<std::string>{});

  Weighing empty;
  empty.currency = "EUR";
  CHECK(validator.problems(Json::parse(weighing_json(empty))) == std::vector<std::string>{});
}

TEST_CASE("the schema finds what is wrong") {
  const Json schema = Json::parse(weighing_schema());
  Validator validator(schema);
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
  CHECK(text.starts_with("{\n  \"schema\": \"mendworth.weighing\",\n  \"version\": 1,\n"));
  CHECK(text.ends_with("}\n"));
  const Json json = Json::parse(text);
  CHECK(json["verdict"]["saving_amount"] == 41.125);
  CHECK(json["verdict"]["saving_unused_life_counted_amount"] == 40.5);
  CHECK(json["settings"] == Json({{"seed", 7}, {"futures", 100000}, {"today", "2026-03-01"}}));
  CHECK(json["options"][0]["made_of"]["leftovers_cost"] == -0.5);
  CHECK(json["options"][2]["later_visits_limit"].is_null());
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
  const std::string one = weighing_json(w) + weighing_text(w, {});
  w.settings.threads = 8;
  CHECK(weighing_json(w) + weighing_text(w, {}) == one);
}

TEST_CASE("bytes that are no UTF-8 do not stop the answer") {
  Weighing w = testing::weighing();
  w.source_name = "caf\xE9.toml";
  CHECK(Json::parse(weighing_json(w))["source_name"] == "caf\xEF\xBF\xBD.toml");
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
