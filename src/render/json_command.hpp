#pragma once

#include <cstdint>
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

}  // namespace mendworth
