#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/inputs.hpp"

namespace mendworth::page {

/// One field of a form. All strings are plain.
struct Field {
  std::string key;  ///< its name; what is about it is found by "f-KEY", "h-KEY", "e-KEY"
  std::string label, unit;
  std::vector<std::string> help;  ///< what it means, what it may be, what is taken if it is left out
  InputKind kind = InputKind::text;
  std::vector<std::string> names;      ///< to choose from; none: anything may be typed
  std::string value;                   ///< as `shown_text` has it
  bool fixed = false;                  ///< is not to be changed here
  std::optional<std::string> unknown;  ///< what "don't know" puts in
};

[[nodiscard]] std::string field_html(const Field& field);

}  // namespace mendworth::page
