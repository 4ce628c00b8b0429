#include "render/json_command.hpp"

#include <cstddef>
#include <type_traits>

#include "mendworth/diagnostic.hpp"
#include "mendworth/render.hpp"
#include "render/json_shape.hpp"

namespace mendworth {

namespace {

Json value_json(const CommandValue& value) {
  return std::visit(
      [](const auto& held) -> Json {
        using Held = std::decay_t<decltype(held)>;
        if constexpr (std::is_same_v<Held, std::monostate>)
          return nullptr;
        else if constexpr (std::is_same_v<Held, double>)
          return number(held);
        else
          return held;
      },
      value);
}

CommandValue value_of(const Json& json, const CommandRecord& record) {
  if (const auto* value = json.as<bool>()) return *value;
  if (const auto* value = json.as<std::uint64_t>()) return *value;
  if (const auto* value = json.as<double>()) return *value;
  if (const auto* value = json.as<std::string>()) return *value;
  if (json.as<std::nullptr_t>() != nullptr) return {};
  const auto* items = json.as<std::vector<Json>>();
  if (items == nullptr) record.refuse("an option is neither a value nor a list");
  std::vector<std::string> texts;
  for (const Json& item : *items) {
    const auto* text = item.as<std::string>();
    if (text == nullptr) record.refuse("a list holds something else than text");
    texts.push_back(*text);
  }
  return texts;
}

bool says(const Json& json, const std::string& name, const std::string& text) {
  const Json* member = json.find(name);
  const auto* found = member == nullptr ? nullptr : member->as<std::string>();
  return found != nullptr && *found == text;
}

}  // namespace

std::string command_json(const std::string& command,
                         const std::vector<std::pair<std::string, CommandValue>>& options) {
  Json given = Json::object();
  for (const auto& [name, value] : options) given.add(name, value_json(value));
  const Json out = {{"schema", "mendworth.command"},
                    {"version", 1},
                    {"program_version", version()},
                    {"command", command},
                    {"options", given}};
  return out.text();
}

void CommandRecord::refuse(const std::string& problem) const {
  Diagnostic diagnostic;
  diagnostic.source = source;
  diagnostic.message = "this is no record of a command: " + problem;
  throw InputError({diagnostic});
}

CommandRecord read_command_json(const std::string& text, const std::string& source,
                                const std::string& command) {
  CommandRecord record;
  record.source = source;
  const auto json = Json::read(text);
  if (!json) record.refuse("it is no JSON");
  const Json* version = json->find("version");
  const auto* number = version == nullptr ? nullptr : version->as<std::uint64_t>();
  if (!says(*json, "schema", "mendworth.command") || number == nullptr || *number != 1) {
    record.refuse("it is not of the schema mendworth.command, version 1");
  }
  if (!says(*json, "command", command)) record.refuse("it is of another command than '" + command + "'");
  const Json* program = json->find("program_version");
  if (program != nullptr && program->as<std::string>() != nullptr)
    record.program_version = *program->as<std::string>();
  const Json* options = json->find("options");
  if (options == nullptr) record.refuse("it has no options");
  options->for_each_member(
      [&](const std::string& name, const Json& value) { record.options[name] = value_of(value, record); });
  return record;
}

}  // namespace mendworth
