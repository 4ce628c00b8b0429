#include "render/json_shape.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string_view>

#include "mendworth/render.hpp"

namespace mendworth {

namespace {

bool says_type(const Json& said, std::string_view type) {
  const auto* text = said.as<std::string>();
  const auto* several = said.as<std::vector<Json>>();
  return text != nullptr ? *text == type : several != nullptr && says_type(several->front(), type);
}

bool is_of(const Json& schema, std::string_view type) {
  const Json* said = schema.find("type");
  return said != nullptr && says_type(*said, type);
}

Allowed by_key(std::string_view key, bool whole) {
  const auto ends = [key](std::string_view end) { return key.ends_with(end); };
  if (ends("_chance") || ends("_share")) return between(0, 1);
  const bool counts = whole || ends("_pieces") || ends("_units") || ends("_years") || ends("_days") ||
                      ends("_minutes") || key.find("error") != std::string_view::npos;
  return counts ? at_least(0) : any_number;
}

void restrict_to(Json& schema, const MemberTable::Member& member) {
  std::vector<const char*> words;
  for (const char* word : member.allowed.words) {
    if (word != nullptr) words.push_back(word);
  }
  if (!words.empty()) schema = one_of_words(words);
  const bool whole = is_of(schema, "integer"), list = is_of(schema, "array");
  if (!whole && !list && !is_of(schema, "number")) return;
  const Allowed allowed = member.allowed.stated || list ? member.allowed : by_key(member.key, whole);
  if (allowed.least) schema.add(list ? "minItems" : "minimum", whole_or_not(*allowed.least));
  if (allowed.most) schema.add("maximum", whole_or_not(*allowed.most));
}

/// Without the null that stands for what is left out.
Json if_there(const Json& schema) {
  Json out = Json::object();
  schema.for_each_member([&](const std::string& key, const Json& value) {
    const auto* types = value.as<std::vector<Json>>();
    out.add(key, key == "type" && types != nullptr ? types->front() : value);
  });
  return out;
}

bool is_none(const Json& value) {
  const auto* items = value.as<std::vector<Json>>();
  return value.as<std::nullptr_t>() != nullptr || (items != nullptr && items->empty());
}

}  // namespace

Json number(double value) {
  if (!std::isfinite(value)) throw std::logic_error("a number of the answer is not finite");
  return value == 0 ? Json(0.0) : Json(value);
}

Json whole_or_not(double value) {
  constexpr double exact = 1e15;
  if (std::abs(value) < exact && value == std::floor(value)) return static_cast<std::int64_t>(value);
  return value;
}

Json of_type(const char* type) { return {{"type", type}}; }

Json one_of_words(const std::vector<const char*>& words) { return {{"enum", words}}; }

Json or_null(const Json& schema) {
  const Json null = of_type("null");
  const Json* type = schema.find("type");
  if (type == nullptr) return {{"anyOf", std::vector<Json>{schema, null}}};
  Json out = Json::object();
  schema.for_each_member([&](const std::string& key, const Json& value) {
    out.add(key, key == "type" ? Json(std::vector<Json>{value, "null"}) : value);
  });
  return out;
}

Json AsJson<Date>::value(const Date& held, const SumStyle& /*sums*/) { return written(held, NumberStyle{}); }

Json AsJson<Date>::schema(Definitions& /*definitions*/) {
  return {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}};
}

Json Definitions::described(const MemberTable& table) {
  Json properties = Json::object(), out = of_type("object");
  std::vector<Json> required;
  table.describe(properties, required, *this);
  if (*table.meaning != '\0') out.add("description", table.meaning);
  out.add("required", required);
  out.add("properties", std::move(properties));
  if (closed_) out.add("additionalProperties", false);
  return out;
}

Json Definitions::reference(const MemberTable& table) {
  const auto at = std::ranges::find_if(
      known_, [&](const auto& known) { return std::string_view(known.first->name) == table.name; });
  if (at == known_.end()) {
    const std::size_t place = known_.size();
    known_.emplace_back(&table, nullptr);
    known_[place].second = described(table);
  } else if (at->first != &table) {
    throw std::logic_error(fmt::format("two shapes of one schema are called {}", table.name));
  }
  return {{"$ref", fmt::format("#/definitions/{}", table.name)}};
}

void Definitions::add_to(Json& schema) const {
  Json all = Json::object();
  for (const auto& [table, definition] : known_) all.add(table->name, definition);
  if (!known_.empty()) schema.add("definitions", std::move(all));
}

void MemberTable::add(const Member& member) { members_.push_back(member); }

Json MemberTable::value(const void* object, const SumStyle& sums) const {
  Json out = Json::object();
  for (const Member& member : members_) {
    Json value = member.value(object, member.at, sums);
    if (member.spliced != nullptr)
      value.for_each_member([&](const std::string& key, const Json& held) { out.add(key, held); });
    else if (!member.allowed.left_out || !is_none(value))
      out.add(member.key, std::move(value));
  }
  return out;
}

void MemberTable::describe(Json& properties, std::vector<Json>& required, Definitions& definitions) const {
  for (const Member& member : members_) {
    if (member.spliced != nullptr) {
      std::vector<Json> not_required;
      member.spliced().describe(properties, member.allowed.left_out ? not_required : required, definitions);
      continue;
    }
    Json schema = member.schema(definitions);
    restrict_to(schema, member);
    if (member.allowed.left_out) schema = if_there(schema);
    if (*member.meaning != '\0') schema.add("description", member.meaning);
    properties.add(member.key, std::move(schema));
    if (!member.allowed.left_out) required.emplace_back(member.key);
  }
}

Json AnswerHead::json(const MemberTable& members, const void* answer, const SumStyle& sums) const {
  Json out = Json::object();
  if (version > 0) {
    out.add("schema", schema);
    out.add("version", version);
  }
  if (names_program) out.add("program_version", mendworth::version());
  members.value(answer, sums).for_each_member([&](const std::string& key, const Json& value) {
    out.add(key, value);
  });
  return out;
}

std::string AnswerHead::json_schema(const MemberTable& members) const {
  Definitions definitions(closed);
  Json properties = Json::object();
  std::vector<Json> required;
  const auto at_the_top = [&](const char* key, Json described) {
    properties.add(key, std::move(described));
    required.emplace_back(key);
  };
  if (version > 0) {
    at_the_top("schema", {{"const", schema}});
    at_the_top("version", {{"const", version}, {"description", "keys are only ever added within a version"}});
  }
  if (names_program) at_the_top("program_version", {{"type", "string"}, {"description", "of mendworth"}});
  members.describe(properties, required, definitions);
  if (beside != nullptr) {
    properties.add("beside", {{"type", "array"},
                              {"items", definitions.reference(beside())},
                              {"description", "only where the case has what-ifs or other cases were given"}});
  }
  Json out = {{"$schema", "http://json-schema.org/draft-07/schema#"},
              {"title", version > 0 ? fmt::format("{}, version {}", schema, version) : schema},
              {"description", meaning},
              {"type", "object"},
              {"required", required},
              {"properties", std::move(properties)}};
  if (closed) out.add("additionalProperties", false);
  definitions.add_to(out);
  return out.text();
}

}  // namespace mendworth
