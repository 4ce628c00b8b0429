#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace mendworth {

/// The value of an option as the record of a command keeps it; the first is one that was not given.
using CommandValue =
    std::variant<std::monostate, bool, std::uint64_t, double, std::string, std::vector<std::string>>;

/// What was asked for, in the order given: schema "mendworth.command", version 1. Throws std::logic_error if a number
/// is not finite.
[[nodiscard]] std::string command_json(const std::string& command,
                                       const std::vector<std::pair<std::string, CommandValue>>& options);

/// A record as `command_json` wrote it.
struct CommandRecord {
  std::string program_version;
  std::map<std::string, CommandValue> options;

  /// The option's value; absent if it was not given. Throws InputError if it is of another type.
  template <class T>
  [[nodiscard]] std::optional<T> given(const std::string& name) const {
    const auto found = options.find(name);
    if (found == options.end() || std::holds_alternative<std::monostate>(found->second)) return std::nullopt;
    if (const T* value = std::get_if<T>(&found->second)) return *value;
    refuse("options." + name + " is not of its kind");
  }
  [[noreturn]] void refuse(const std::string& problem) const;

  std::string source;  ///< the file
};

/// Reads the record of a command of that name. Throws InputError if it is none.
[[nodiscard]] CommandRecord read_command_json(const std::string& text, const std::string& source,
                                              const std::string& command);

}  // namespace mendworth
