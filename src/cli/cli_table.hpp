#pragma once

#include <CLI/CLI.hpp>
#include <map>

#include "cli/commands.hpp"

namespace mendworth::cli {

/// The commands and their options as the command line library keeps them: to parse, for --help, for the manual.
class CommandLine {
 public:
  CommandLine();
  CommandLine(const CommandLine&) = delete;
  CommandLine& operator=(const CommandLine&) = delete;

  CLI::App app;
  std::map<const CLI::App*, RunCommand> runs;
};

}  // namespace mendworth::cli
