#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "domain/inputs.hpp"
#include "mendworth/render.hpp"
#include "render/json_shape.hpp"

namespace mendworth {

namespace {

std::string in_words(std::string_view unit, bool of_supplier) {
  std::string text(unit);
  if (text.front() == '$' || text.front() == '@')
    text.replace(0, 1, of_supplier ? "in the supplier's currency" : "in the device's currency");
  return text;
}

/// Help, unit and who alone knows it, as editors show them.
std::string description(const Input& input) {
  std::string text(input.help);
  const auto add = [&](std::string_view more) { text += (text.empty() ? "" : "; ") + std::string(more); };
  if (!input.unit.empty()) add(in_words(input.unit, input.unit.front() == '@'));
  if (!input.only_known_by.empty()) add(input.only_known_by);
  if (!input.rates.empty()) add("if left out, from the rates");
  return text;
}

/// Writes a table of inputs as a JSON Schema. Ranges of numbers, which many inputs share, are definitions.
class SchemaWriter {
 public:
  Json document(std::span<const Input> table, const char* title) {
    Json out = Json::object();
    out.add("$schema", "https://json-schema.org/draft/2020-12/schema");
    out.add("title", title);
    describe_table(out, table);
    Json shared = Json::object();
    for (auto& [name, definition] : definitions_) shared.add(name, std::move(definition));
    out.add("$defs", std::move(shared));
    return out;
  }

 private:
  static Json reference(const std::string& name) { return {{"$ref", "#/$defs/" + name}}; }

  Json defined(const std::string& name, Json definition) {
    for (const auto& [known, ignored] : definitions_) {
      if (known == name) return reference(name);
    }
    definitions_.emplace_back(name, std::move(definition));
    return reference(name);
  }

  static Json between(const char* type, double low, double high) {
    return {{"type", type}, {"minimum", whole_or_not(low)}, {"maximum", whole_or_not(high)}};
  }

  Json number(const char* type, const Limits& limits) {
    const std::string name = fmt::format("{}_{}_to_{}", type, limits.low, limits.high);
    if (limits.least == 0) return defined(name, between(type, limits.low, limits.high));
    std::vector<Json> any{{{"const", 0}}, between(type, std::max(limits.low, limits.least), limits.high)};
    if (limits.low < 0) any.push_back(between(type, limits.low, -limits.least));
    return defined(fmt::format("{}_by_{}", name, limits.least), {{"anyOf", any}});
  }

  Json range(const Limits& limits) {
    const std::string name = fmt::format("range_{}_to_{}_by_{}", limits.low, limits.high, limits.least);
    const Json end = number("number", limits);
    return defined(name, {{"type", "object"},
                          {"properties",
                           {{"low", end},
                            {"likely", end},
                            {"high", end},
                            {"spread", {{"enum", std::vector<Json>{"beta", "triangular"}}}}}},
                          {"required", std::vector<Json>{"low", "high"}},
                          {"additionalProperties", false}});
  }

  Json text() { return defined("text", {{"type", "string"}, {"pattern", "[^ ]"}, {"maxLength", 500}}); }

  static Json one_of(const Input& input) {
    std::vector<Json> names;
    for (const std::string_view name : input.names) names.emplace_back(std::string(name));
    return {{"enum", names}};
  }

  static Json list(Json item, double most) {
    return {{"type", "array"}, {"items", std::move(item)}, {"maxItems", whole_or_not(most)}};
  }

  Json value(const Input& input) {
    switch (input.kind) {
      case InputKind::quantity: {
        std::vector<Json> any{number("number", input.limits), range(input.limits)};
        if (!input.word.empty()) any.push_back({{"const", std::string(input.word)}});
        return {{"anyOf", any}};
      }
      case InputKind::number: return number("number", input.limits);
      case InputKind::count: return number("integer", input.limits);
      case InputKind::flag: return {{"type", "boolean"}};
      case InputKind::text: return text();
      case InputKind::texts: return list(text(), most_list_items);
      case InputKind::choice: return one_of(input);
      case InputKind::choices: return list(one_of(input), most_list_items);
      case InputKind::date: return {{"type", "string"}, {"format", "date"}};
      case InputKind::sizes:
        return {{"type", "object"}, {"additionalProperties", number("number", input.limits)}};
      case InputKind::table:
      case InputKind::tables: break;
    }
    Json table = Json::object();
    describe_table(table, input.within, input.open);
    return input.kind == InputKind::table ? table : list(std::move(table), input.limits.high);
  }

  Json property(const Input& input) {
    Json out = value(input);
    if (std::string words = description(input); !words.empty()) out.add("description", std::move(words));
    if (input.otherwise) out.add("default", whole_or_not(*input.otherwise));
    return out;
  }

  void describe_table(Json& out, std::span<const Input> table, bool open = false) {
    Json properties = Json::object();
    std::vector<Json> required;
    for (std::size_t i = 0; i < table.size(); ++i) {
      const Input& input = table[i];
      // One key in two ways: a single price, or a list of them.
      const bool twice = i + 1 < table.size() && table[i + 1].key == input.key;
      if (twice) {
        properties.add(std::string(input.key),
                       {{"anyOf", std::vector<Json>{property(input), property(table[i + 1])}}});
        ++i;
      } else {
        properties.add(std::string(input.key), property(input));
      }
      const bool always = input.within.empty() ? !input.missing.empty() : input.starred;
      if (always && (!input.by_hand || open)) required.emplace_back(std::string(input.key));
    }
    out.add("type", "object");
    out.add("properties", std::move(properties));
    if (!required.empty()) out.add("required", required);
    out.add("additionalProperties", open);
  }

  std::vector<std::pair<std::string, Json>> definitions_;
};

}  // namespace

std::string case_file_schema() {
  return SchemaWriter().document(case_inputs(), "A case for mendworth").text();
}

std::string shop_file_schema() {
  return SchemaWriter().document(shop_inputs(), "A shop file for mendworth").text();
}

}  // namespace mendworth
