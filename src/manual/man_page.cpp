#include <algorithm>
#include <cctype>

#include "cli/cli_table.hpp"
#include "cli/exit_code.hpp"
#include "manual/manual.hpp"
#include "mendworth/render.hpp"

namespace mendworth::manual {

namespace {

std::string upper(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return text;
}

std::string page_name(CLI::App& program, CLI::App& command) {
  return &program == &command ? program.get_name() : program.get_name() + "-" + command.get_name();
}

std::string section(const std::string& title, const std::string& text) {
  return text.empty() ? "" : ".SH " + title + "\n" + text;
}

std::string term(const std::string& what, const std::string& help) {
  return ".TP\n" + what + "\n" + as_roff(one_line_help(help)) + "\n";
}

std::string value_of(CLI::Option& option) {
  const std::string name = option.get_type_name();
  return option.get_items_expected_max() == 0 || name.empty() ? "" : " \\fI" + as_roff(name) + "\\fR";
}

std::string names_with_value(CLI::Option& option) {
  std::string names;
  for (const std::string& name : option.get_snames())
    names += (names.empty() ? "" : ", ") + ("\\fB\\-" + as_roff(name) + "\\fR");
  for (const std::string& name : option.get_lnames())
    names += (names.empty() ? "" : ", ") + ("\\fB\\-\\-" + as_roff(name) + "\\fR");
  return names + value_of(option);
}

std::string synopsis(CLI::App& program, CLI::App& command) {
  std::string line = "\\fB" + as_roff(program.get_name());
  if (&program == &command) {
    return line + "\\fR \\fICOMMAND\\fR [\\fIOPTIONS\\fR]\n.br\n" + line +
           "\\fR [\\fB\\-\\-help\\fR|\\fB\\-\\-version\\fR]\n";
  }
  line += " " + as_roff(command.get_name()) + "\\fR [\\fIOPTIONS\\fR]";
  for (CLI::Option* option : command.get_options()) {
    if (!option->get_positional()) continue;
    const std::string value = "\\fI" + as_roff(option->get_type_name()) + "\\fR";
    line += option->get_required() ? " " + value : " [" + value + "]";
    if (option->get_items_expected_max() > 1) line += "...";
  }
  return line + "\n";
}

/// Text whose lines are set as they are.
std::string as_set(const std::string& text) { return ".nf\n" + as_roff(text) + "\n.fi\n"; }

/// Without the exit codes, which have a section of their own, and without blank lines at the ends.
std::string without_exit_codes(std::string text) {
  text = text.substr(0, text.find(cli::exit_codes));
  while (!text.empty() && text.back() == '\n') text.pop_back();
  return text.substr(std::min(text.find_first_not_of('\n'), text.size()));
}

}  // namespace

std::string man_page(CLI::App& program, CLI::App& command) {
  const bool whole = &program == &command;
  const std::string name = page_name(program, command);
  const std::string words =
      whole ? "repair or replace, what to order, what to charge" : one_line_help(command.get_description());
  std::string arguments, options, commands;
  for (CLI::Option* option : command.get_options()) {
    if (option->get_group().empty()) continue;  // hidden
    if (option->get_positional()) {
      arguments += term("\\fI" + as_roff(option->get_type_name()) + "\\fR", option->get_description());
    } else {
      options += term(names_with_value(*option), option->get_description());
    }
  }
  std::string others;
  for (CLI::App* other : commands_of(command)) {
    commands += term("\\fB" + as_roff(other->get_name()) + "\\fR", other->get_description());
    others += (others.empty() ? "" : ",\n") + (".BR " + as_roff(page_name(program, *other)) + " (1)");
  }
  std::string exits = cli::exit_codes;
  exits = exits.substr(exits.find(": ") + 2);
  return ".\\\" Made from the tables of options that --help is made from.\n"
         ".TH " +
         upper(as_roff(name)) + " 1 \"\" \"mendworth " + version() + "\" \"User Commands\"\n" +
         section("NAME", as_roff(name) + " \\- " + as_roff(words) + "\n") +
         section("SYNOPSIS", synopsis(program, command)) + section("ARGUMENTS", arguments) +
         section("COMMANDS", commands) + section("OPTIONS", options) +
         section(whole ? "EXAMPLES" : "NOTES",
                 as_set(without_exit_codes(whole ? command.get_description() : command.get_footer()))) +
         section("EXIT STATUS", as_roff(one_line_help(exits)) + "\n") +
         section("SEE ALSO", whole ? others + "\n" : ".BR mendworth (1)\n");
}

}  // namespace mendworth::manual
