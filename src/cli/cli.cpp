#include "cli/cli.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <limits>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "input/suggest.hpp"
#include "mendworth/render.hpp"
#include "render/layout.hpp"

// The only place that knows the command line library. It fills plain option structs; commands.hpp does the work.
namespace mendworth::cli {

namespace {

constexpr int most_threads = 1024;
constexpr int fewest_futures = 100;
constexpr int most_futures = 4'000'000;

const char* const examples =
    "Examples:\n"
    "  mendworth new my-case.toml             write a case to fill in\n"
    "  mendworth check my-case.toml           is it complete and consistent?\n"
    "  mendworth weigh my-case.toml           worth fixing? what to order?\n"
    "  mendworth weigh my-case.toml --set replacement.price=80\n"
    "  mendworth weigh my-case.toml --format json --out answer.json\n"
    "  mendworth rates                        the trade figures behind the defaults\n";

const char* const exit_codes =
    "Exit codes: 0 answered, whatever the verdict; 2 wrong use; 3 a case or rates\n"
    "file is wrong; 4 a file cannot be read or written; 70 a fault of the program.";

const char* const weigh_examples =
    "Examples:\n"
    "  mendworth weigh case.toml\n"
    "  mendworth weigh case.toml --set labour.rate_per_hour=0\n"
    "  mendworth weigh - --format json < case.toml\n\n";

struct Selected {
  WeighOptions weigh;
  CheckOptions check;
  NewOptions fresh;
  RatesOptions rates;
};

// Numbers and choices arrive as words: the library's own conversions take "010" for 8 and -1 for a large number.
template <class Convert>
CLI::Option* add_converted(CLI::App* app, const std::string& name, const std::string& value_name,
                           const std::string& help, Convert convert) {
  const std::string shown = name.substr(name.rfind("--"));
  return app
      ->add_option_function<std::string>(
          name,
          [convert, shown](const std::string& word) {
            const std::string problem = convert(word);
            if (!problem.empty())
              throw CLI::ValidationError(fmt::format("{} {}, not '{}'", shown, problem, word),
                                         CLI::ExitCodes::ValidationError);
          },
          help)
      ->type_name(value_name);
}

template <class Number>
auto number_into(Number& target, std::uint64_t low, std::uint64_t high) {
  return [&target, low, high](const std::string& word) -> std::string {
    const auto value = whole_number(word, low, high);
    if (!value) return fmt::format("wants a whole number from {} to {}", low, high);
    target = static_cast<Number>(*value);
    return {};
  };
}

template <class Choice>
auto choice_into(Choice& target, std::vector<std::pair<std::string, Choice>> choices) {
  return [&target, choices](const std::string& word) -> std::string {
    std::string known;
    for (const auto& entry : choices) {
      if (entry.first == word) {
        target = entry.second;
        return {};
      }
      known += (known.empty() ? "" : ", ") + entry.first;
    }
    return "wants one of " + known;
  };
}

void add_rates_option(CLI::App* app, std::optional<std::string>& directory) {
  app->add_option("--rates", directory, "Lay the *.toml of DIR over the built-in rates")->type_name("DIR");
}

void add_format_option(CLI::App* app, Format& format) {
  add_converted(app, "--format", "FORMAT", "text (default) or json",
                choice_into(format, {{"text", Format::text}, {"json", Format::json}}));
}

void add_color_option(CLI::App* app, ColorChoice& color) {
  add_converted(app, "--color", "WHEN", "auto (default), always or never",
                choice_into(color, {{"auto", ColorChoice::automatic},
                                    {"always", ColorChoice::always},
                                    {"never", ColorChoice::never}}));
}

void add_weigh(CLI::App& app, WeighOptions& options) {
  CLI::App* weigh = app.add_subcommand("weigh", "Weighs repair against replacement for one case.");
  weigh->footer(std::string(weigh_examples) + exit_codes);
  weigh->add_option("case", options.case_path, "Case file; - reads standard input")
      ->type_name("CASE")
      ->required();
  add_format_option(weigh, options.format);
  weigh->add_option("--set", options.overrides, "Override an entry of the case; may be repeated")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
  add_rates_option(weigh, options.rates_directory);
  add_converted(weigh, "--seed", "N", "Seed of the random numbers (default 1)",
                number_into(options.settings.seed, 0, std::numeric_limits<std::uint64_t>::max()));
  add_converted(weigh, "--futures", "N", "Futures to simulate (default 100000)",
                number_into(options.settings.futures, fewest_futures, most_futures));
  add_converted(weigh, "--threads", "N", "Threads; 0 (default): all. Never changes an answer",
                number_into(options.settings.threads, 0, most_threads));
  add_converted(weigh, "--date", "YYYY-MM-DD", "Today, for the guarantee (default: the clock)",
                [&options](const std::string& word) -> std::string {
                  options.settings.today = day(word);
                  return options.settings.today ? "" : "wants a day that exists, as YYYY-MM-DD";
                });
  add_color_option(weigh, options.color);
  weigh->add_option("--out", options.out_path, "Write to FILE, whole or not at all")->type_name("FILE");
}

void add_check(CLI::App& app, CheckOptions& options) {
  CLI::App* check = app.add_subcommand("check", "Checks cases: names every problem, weighs nothing.");
  check->add_option("cases", options.case_paths, "Case files; - reads standard input")
      ->type_name("CASE")
      ->required();
  add_rates_option(check, options.rates_directory);
}

void add_new(CLI::App& app, NewOptions& options) {
  CLI::App* fresh = app.add_subcommand("new", "Writes a commented case to start from.");
  fresh->add_option("file", options.path, "File to create; without it, standard output")->type_name("FILE");
  fresh->add_flag("--every-key", options.every_key, "Show every key there is");
}

void add_rates(CLI::App& app, RatesOptions& options) {
  CLI::App* rates = app.add_subcommand("rates", "Lists the trade figures and their sources.");
  add_rates_option(rates, options.rates_directory);
  add_format_option(rates, options.format);
  add_color_option(rates, options.color);
}

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

std::string with_suggestion(const std::string& problem, const std::string& word,
                            const std::vector<std::string>& known) {
  const std::string hint = input::suggestion(word, known);
  return hint.empty() ? problem : problem + "; " + hint;
}

// Better words than the library has for what was left over.
std::string usage_problem(const CLI::App& app, const CLI::ParseError& error) {
  const CLI::App* command = chosen_command(app);
  const std::vector<std::string> extras = app.remaining(true);
  const auto first_option = std::find_if(extras.begin(), extras.end(), [](const std::string& word) {
    return word.size() > 1 && word.front() == '-' && word != "--";
  });
  if (command == nullptr && !extras.empty() && first_option != extras.begin()) {
    return with_suggestion(fmt::format("unknown command '{}'", extras.front()), extras.front(),
                           command_names(app));
  }
  if (first_option != extras.end()) {
    const std::string name = first_option->substr(0, first_option->find('='));
    return with_suggestion(fmt::format("unknown option '{}'", name), name,
                           option_names(command != nullptr ? *command : app));
  }
  if (command != nullptr && !extras.empty()) {
    return fmt::format("'{}' is one word too many for {}", extras.front(), command->get_name());
  }
  return error.what();
}

int explain(const CLI::App& app, const CLI::ParseError& error, const Streams& streams) {
  if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success)) {
    return app.exit(error, streams.out, streams.err);  // --help, --version
  }
  const CLI::App* command = chosen_command(app);
  streams.err << "mendworth: " << printable(usage_problem(app, error)) << '\n'
              << fmt::format("Run 'mendworth {}--help' for what is possible.\n",
                             command != nullptr ? command->get_name() + " " : "");
  return wrong_use;
}

int run_selected(const CLI::App& app, const Selected& selected, const Streams& streams,
                 const Surroundings& surroundings) {
  const std::string name = chosen_command(app)->get_name();
  if (name == "weigh") return weigh_command(selected.weigh, streams, surroundings);
  if (name == "check") return check_command(selected.check, streams);
  if (name == "new") return new_command(selected.fresh, streams);
  if (name == "rates") return rates_command(selected.rates, streams, surroundings);
  return schema_command(streams);
}

}  // namespace

int run_command_line(int argc, const char* const* argv, const Streams& streams,
                     const Surroundings& surroundings) {
  CLI::App app(examples, "mendworth");
  constexpr std::size_t option_column = 28;
  app.get_formatter()->column_width(option_column);
  app.set_version_flag("--version", fmt::format("mendworth {}", version()));
  app.footer(exit_codes);
  app.require_subcommand(1);

  Selected selected;
  add_weigh(app, selected.weigh);
  add_check(app, selected.check);
  add_new(app, selected.fresh);
  add_rates(app, selected.rates);
  app.add_subcommand("schema", "Prints the JSON Schema of 'weigh --format json'.");

  if (argc <= 1) {
    streams.err << app.help();
    return wrong_use;
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return explain(app, error, streams);
  }
  return guarded([&] { return run_selected(app, selected, streams, surroundings); }, streams.err);
}

}  // namespace mendworth::cli
