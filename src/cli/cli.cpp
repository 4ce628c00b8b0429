#include "cli/cli.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <ostream>
#include <string>
#include <vector>

#include "cli/cli_table.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/help_text.hpp"
#include "cli/option_set.hpp"
#include "cli/problem_text.hpp"
#include "input/suggest.hpp"
#include "mendworth/render.hpp"

// The table of commands. The files cli*.cpp are the only place that knows the command line library.
namespace mendworth::cli {

namespace {

const char* const examples =
    "Examples:\n"
    "  mendworth ask                          a dozen questions, and the answer\n"
    "  mendworth page                         the same in the browser, to try things\n"
    "  mendworth new my-case.toml             write a case to fill in\n"
    "  mendworth check my-case.toml           is it complete and consistent?\n"
    "  mendworth weigh my-case.toml           worth fixing? what to order?\n"
    "  mendworth weigh my-case.toml --show all      all there is to say\n"
    "  mendworth weigh my-case.toml --set replacement.price=80\n"
    "  mendworth weigh my-case.toml --format json --out answer.json\n"
    "  mendworth buy my-case.toml             what to order, from whom, how many\n"
    "  mendworth rates                        the trade figures behind the defaults\n"
    "  mendworth lifetime history.csv         what the parts so far say of their life\n"
    "  mendworth drawer drawer.csv            the spare parts on hand\n"
    "  mendworth bulk my-case.toml            a fleet or a shop: how many to buy?\n"
    "  mendworth quote my-case.toml           what to charge a customer for it\n"
    "  mendworth rows my-case.toml table.csv  a table of such devices, row by row\n";

struct Command {
  const char* name;
  const char* words;
  RunCommand (*set_up)(OptionSet&);
};

constexpr Command commands[] = {
    {"ask", "Asks a dozen questions and weighs what they make.", set_up_ask},
    {"page", "Opens a page in the browser to work on a case.", set_up_page},
    {"weigh", "Weighs repair against replacement for one case.", set_up_weigh},
    {"buy", "What to order for a repair, from whom, how many.", set_up_buy},
    {"check", "Checks files: names every problem, weighs nothing.", set_up_check},
    {"new", "Writes a commented case or shop to start from.", set_up_new},
    {"rates", "Lists the trade figures and their sources.", set_up_rates},
    {"lifetime", "Estimates from a record how long a part lasts.", set_up_lifetime},
    {"drawer", "Lists the spare parts on hand; adds and takes.", set_up_drawer},
    {"bulk", "What a fleet or a shop should buy of a part.", set_up_bulk},
    {"quote", "Writes a price for the customer, and its cost.", set_up_quote},
    {"rows", "Weighs each row of a table, a device on each line.", set_up_rows},
    {"schema", "Prints the JSON Schema of a command's answer.", set_up_schema},
};

const CLI::App* chosen_command(const CLI::App& app) {
  const auto chosen = app.get_subcommands();
  return chosen.empty() ? nullptr : chosen.front();
}

std::vector<std::string> command_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  return names;
}

std::vector<std::string> option_names(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
  }
  return names;
}

// Better words than the library has for what was left over.
std::string usage_problem(const CLI::App& app, const CLI::ParseError& error) {
  const CLI::App* command = chosen_command(app);
  const std::vector<std::string> extras = app.remaining(true);
  const auto first_option = std::ranges::find_if(
      extras, [](const std::string& word) { return word.size() > 1 && word.front() == '-' && word != "--"; });
  if (command == nullptr && !extras.empty() && first_option != extras.begin()) {
    return input::with_suggestion(fmt::format("unknown command '{}'", extras.front()), extras.front(),
                                  command_names(app));
  }
  if (first_option != extras.end()) {
    const std::string name = first_option->substr(0, first_option->find('='));
    return input::with_suggestion(fmt::format("unknown option '{}'", name), name,
                                  option_names(command != nullptr ? *command : app));
  }
  if (command != nullptr && !extras.empty()) {
    return fmt::format("'{}' is one word too many for {}", extras.front(), command->get_name());
  }
  return error.what();
}

int explain(const CLI::App& app, const CLI::ParseError& error, const Streams& streams,
            const Surroundings& surroundings) {
  if (dynamic_cast<const CLI::CallForHelp*>(&error) != nullptr) {
    streams.out << fitted_help(app.help(), text_columns(surroundings));
    return answered;
  }
  if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success)) {
    return app.exit(error, streams.out, streams.err);  // --version
  }
  const CLI::App* command = chosen_command(app);
  streams.err << message_text("mendworth: " + usage_problem(app, error), message_columns(surroundings))
              << fmt::format("Run 'mendworth {}--help' for what is possible.\n",
                             command != nullptr ? command->get_name() + " " : "");
  return wrong_use;
}

int help_command(const CLI::App& app, const std::string& command, const Streams& streams,
                 const Surroundings& surroundings) {
  const std::vector<std::string> names = command_names(app);
  if (!command.empty() && std::ranges::find(names, command) == names.end())
    throw UsageError(
        input::with_suggestion(fmt::format("there is no command '{}'", command), command, names));
  const std::string help =
      command.empty() ? app.get_formatter()->make_help(&app, app.get_name(), CLI::AppFormatMode::Normal)
                      : app.get_subcommand(command)->help("mendworth");
  streams.out << fitted_help(help, text_columns(surroundings));
  return answered;
}

/// Of this command line, about all the others.
RunCommand set_up_help(const CLI::App& app, OptionSet& set) {
  const auto command = std::make_shared<std::string>();
  set.text({"command", "COMMAND", "One of the commands"}, *command);
  return [&app, command](const Streams& streams, const Surroundings& surroundings) {
    return help_command(app, *command, streams, surroundings);
  };
}

}  // namespace

CommandLine::CommandLine() : app(examples, "mendworth") {
  constexpr std::size_t option_column = 28;
  app.get_formatter()->column_width(option_column);
  app.set_version_flag("--version", fmt::format("mendworth {}", version()));
  app.footer(exit_codes);
  app.require_subcommand(1);

  for (const Command& command : commands) {
    CLI::App* added = app.add_subcommand(command.name, command.words);
    OptionSet set(*added);
    runs[added] = command.set_up(set);
  }
  CLI::App* help = app.add_subcommand("help", "Says what a command is for and what it takes.");
  OptionSet help_set(*help);
  runs[help] = set_up_help(app, help_set);
}

int run_command_line(int argc, const char* const* argv, const Streams& streams,
                     const Surroundings& surroundings) {
  CommandLine line;
  if (argc <= 1) {
    streams.err << fitted_help(line.app.help(), message_columns(surroundings));
    return wrong_use;
  }
  try {
    line.app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return explain(line.app, error, streams, surroundings);
  }
  return guarded([&] { return line.runs.at(chosen_command(line.app))(streams, surroundings); }, streams.err,
                 message_columns(surroundings));
}

}  // namespace mendworth::cli
