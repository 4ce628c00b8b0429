#pragma once

#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

namespace mendworth::testing {

inline bool has_type(const nlohmann::json& value, const std::string& type) {
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
class SchemaValidator {
 public:
  explicit SchemaValidator(const nlohmann::json& schema) : root_(schema) {}

  std::vector<std::string> problems(const nlohmann::json& value) {
    problems_.clear();
    check(value, root_, "");
    return problems_;
  }

 private:
  void say(const std::string& where, const std::string& what) { problems_.push_back(where + ": " + what); }

  bool fits_one(const nlohmann::json& value, const nlohmann::json& alternatives) const {
    for (const nlohmann::json& alternative : alternatives) {
      SchemaValidator inner(root_);
      inner.check(value, alternative, "");
      if (inner.problems_.empty()) return true;
    }
    return false;
  }

  void check(const nlohmann::json& value, const nlohmann::json& schema, const std::string& where) {
    if (schema.contains("$ref")) {
      const std::string name = schema["$ref"].get<std::string>().substr(std::string("#/definitions/").size());
      check(value, root_["definitions"].at(name), where);
      return;
    }
    if (schema.contains("anyOf") && !fits_one(value, schema["anyOf"])) say(where, "fits no alternative");
    if (schema.contains("const") && value != schema["const"]) say(where, "is not the constant");
    if (schema.contains("enum")) {
      bool found = false;
      for (const nlohmann::json& known : schema["enum"]) found = found || known == value;
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
      for (const nlohmann::json& item : value) check(item, schema["items"], where + "[]");
    }
    if (schema.contains("additionalProperties") && schema["additionalProperties"].is_object()) {
      for (const auto& [key, entry] : value.items())
        check(entry, schema["additionalProperties"], where + "/" + key);
    }
    if (schema.contains("properties") && value.is_object()) check_object(value, schema, where);
  }

  void check_type(const nlohmann::json& value, const nlohmann::json& types, const std::string& where) {
    bool fits = false;
    if (types.is_string()) {
      fits = has_type(value, types.get<std::string>());
    } else {
      for (const nlohmann::json& type : types) fits = fits || has_type(value, type.get<std::string>());
    }
    if (!fits) say(where, "has the wrong type");
  }

  void check_object(const nlohmann::json& value, const nlohmann::json& schema, const std::string& where) {
    for (const nlohmann::json& key : schema["required"]) {
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

  const nlohmann::json& root_;
  std::vector<std::string> problems_;
};

}  // namespace mendworth::testing
