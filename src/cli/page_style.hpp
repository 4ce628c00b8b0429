#pragma once

#include <string>
#include <vector>

#include "cli/surroundings.hpp"
#include "cli/values.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

/// How a command is asked to write its answer.
struct PageOptions {
  Format format = Format::unstated;
  ColorChoice color = ColorChoice::automatic;
  std::vector<std::string> show{};
  std::optional<std::string> table{};
};

/// The style of a page of an answer with these sections; of text, as wide as the terminal from 60 to 120 columns, else
/// 80. A table alone is CSV unless a format is stated. Throws UsageError if the options do not go together or a section is
/// not among them.
[[nodiscard]] PageStyle page_style(const PageOptions& options, const std::vector<std::string>& sections,
                                   const Surroundings& surroundings, bool to_standard_output);

}  // namespace mendworth::cli
