#pragma once

#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

/// Manual pages and shell completions, made from the tables of options that --help is made from.
namespace mendworth::manual {

/// The manual page of a command in roff's man macros, or that of the program where `command` is the whole of it.
[[nodiscard]] std::string man_page(CLI::App& program, CLI::App& command);

/// The manual page of a kind of file, "case" or "shop": every entry from the table of inputs.
[[nodiscard]] std::string file_page(const std::string& kind);

/// Text as it is: no request at the start of a line, no escape, hyphens that can be copied.
[[nodiscard]] std::string as_roff(const std::string& text);

[[nodiscard]] std::string bash_completion(CLI::App& program);
[[nodiscard]] std::string zsh_completion(CLI::App& program);
[[nodiscard]] std::string fish_completion(CLI::App& program);

/// The commands of a program, in the order of its help.
[[nodiscard]] std::vector<CLI::App*> commands_of(CLI::App& program);

/// What may follow an option.
struct Values {
  std::vector<std::string> words;  ///< one of these, or several between commas
  bool files = false, folders = false;
};
[[nodiscard]] Values values_of(CLI::Option& option);

/// Help in one line.
[[nodiscard]] std::string one_line_help(const std::string& help);

}  // namespace mendworth::manual
