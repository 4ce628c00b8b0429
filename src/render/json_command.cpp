#include "render/json_command.hpp"

#include <type_traits>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"

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

}  // namespace mendworth
