#include "cli/cli.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <limits>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "cli/cli_options.hpp"
#include "cli/cli_quote.hpp"
#include "cli/cli_rows.hpp"
#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "input/questions.hpp"
#include "input/suggest.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/render.hpp"
#include "render/layout.hpp"

// The files cli*.cpp are the only place that knows the command line library. They fill plain option structs; commands.hpp
// does the work.
namespace mendworth::cli {

namespace {

constexpr int most_baskets = 50;
constexpr double largest_age = 1e12;
constexpr std::uint64_t most_bulk_pieces = 100'000;
constexpr double least_jobs = 1e-3, most_jobs = 1e5;
constexpr double least_years = 1e-3, most_years = 1000;
constexpr double least_shape = 0.1, largest_shape = 20;

const char* const examples =
    "Examples:\n"
    "  mendworth ask                          a dozen questions, and the answer\n"
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

const char* const ask_examples =
    "Each question is an option too; what is given so is not asked. N is a number or\n"
    "a range, 2..6 or 2..4..9; 'unknown' will do where it stands in brackets.\n\n"
    "Examples:\n"
    "  mendworth ask\n"
    "  mendworth ask --out my-case.toml\n"
    "  mendworth ask --part 0.45 --shipping 4.90 --new 85 --life 7 --age 6 \\\n"
    "    --minutes 60 --hour 12 --yes\n\n";

const char* const weigh_examples =
    "Examples:\n"
    "  mendworth weigh case.toml\n"
    "  mendworth weigh case.toml --show costs,sensitivity\n"
    "  mendworth weigh case.toml --table sensitivity --out sensitivity.csv\n"
    "  mendworth weigh case.toml --show all --format html --out answer.html\n"
    "  mendworth weigh case.toml --set labour.rate_per_hour=0\n"
    "  mendworth weigh - --format json < case.toml\n\n";

const char* const buy_examples =
    "Examples:\n"
    "  mendworth buy case.toml\n"
    "  mendworth buy case.toml --pieces \"key switch=12\"\n"
    "  mendworth buy case.toml --set supplier.2.exchange_rate=1.2\n\n";

const char* const lifetime_examples =
    "HISTORY is CSV with a header row. Columns: age_cycles, age_hours or age_years;\n"
    "state (failed, working); if known worked_at (age at the last look at which it\n"
    "worked), first_seen (age when it came under watch), count (pieces), part.\n"
    "Others are left alone.\n\n"
    "Examples:\n"
    "  mendworth lifetime history.csv --part relay --at 20000 --at 50000\n"
    "  mendworth lifetime history.csv --part relay --group supplier\n"
    "  mendworth lifetime history.csv --part relay --plot relay.svg\n"
    "  mendworth lifetime history.csv --part relay --rates-out my-rates/relay.toml\n"
    "  mendworth weigh case.toml --rates my-rates\n\n";

const char* const drawer_examples =
    "FILE is CSV with a header row. Columns: candidate (its name in a case, or the\n"
    "part's where the part has offers of its own), pieces, since, note. Others are\n"
    "kept. The first --add makes the file. Commands may run at the same time: each\n"
    "waits for its turn at FILE.lock, which stays. If there are too few to take,\n"
    "nothing is changed, and the exit code is 3.\n\n"
    "Examples:\n"
    "  mendworth drawer drawer.csv\n"
    "  mendworth drawer drawer.csv --add \"button 6x6\" --pieces 10\n"
    "  mendworth drawer drawer.csv --take \"button 6x6\" --pieces 2\n"
    "  mendworth weigh case.toml --drawer drawer.csv\n\n";

const char* const bulk_examples =
    "The case has a section [bulk]: devices and failed for a fleet of equal devices,\n"
    "or jobs_per_month for a shop. A quotation is CSV with a header row. Columns:\n"
    "candidate, from, each; if known supplier, currency, least, multiple, lead_days.\n\n"
    "Examples:\n"
    "  mendworth bulk case.toml\n"
    "  mendworth bulk case.toml --quantity 500 --until 2\n"
    "  mendworth bulk case.toml --quotation offer.csv --quotation other.csv\n"
    "  mendworth bulk shop.toml --jobs-per-month 2 --jobs-per-month 6\n\n";

struct Selected {
  AskOptions ask;
  WeighOptions weigh;
  BuyOptions buy;
  CheckOptions check;
  NewOptions fresh;
  RatesOptions rates;
  LifetimeOptions lifetime;
  DrawerOptions drawer;
  BulkOptions bulk;
  QuoteOptions quote;
  RowsOptions rows;
  SchemaOptions schema;
  std::string help;
};

const std::string format_help = "text (default), markdown, html, csv or json";

void add_page_options(CLI::App* app, PageOptions& page, const std::vector<std::string>& sections) {
  add_converted(app, "--format", "FORMAT", format_help,
                choice_into(page.format, Choices<Format>{{"text", Format::text},
                                                         {"markdown", Format::markdown},
                                                         {"html", Format::html},
                                                         {"csv", Format::csv},
                                                         {"json", Format::json}}));
  constexpr int help_columns = 50;
  const std::string names = fmt::format("all, or names of: answer, {}", fmt::join(sections, ", "));
  app->add_option("--show", page.show, fmt::format("{}", fmt::join(wrapped(names, help_columns), "\n")))
      ->type_name("LIST")
      ->delimiter(',')
      ->allow_extra_args(false);
  app->add_option("--table", page.table, "This table alone, as CSV unless --format says else")
      ->type_name("NAME");
  add_color_option(app, page.color);
}

std::string value_name(const input::Question& question) {
  using Form = input::Question::Form;
  if (question.form == Form::choice) return "NAME";
  if (question.form == Form::choices) return "NAMES";
  return question.form == Form::name ? "TEXT" : "N";
}

void add_ask(CLI::App& app, AskOptions& options) {
  CLI::App* ask = app.add_subcommand("ask", "Asks a dozen questions, and weighs the case they make.");
  ask->footer(std::string(ask_examples) + exit_codes);
  for (const input::Question& question : input::questions()) {
    const std::string key = question.key;
    ask->add_option_function<std::string>(
           "--" + key, [&options, key](const std::string& word) { options.answers.emplace_back(key, word); },
           fmt::format("{}{}", question.words,
                       *question.usual == '\0' ? "" : fmt::format(" [{}]", question.usual)))
        ->type_name(value_name(question))
        ->group("Answers");
  }
  ask->add_flag("--yes", options.yes, "Ask nothing: take what stands in brackets");
  ask->add_option("--out", options.case_out, "Keep the case in FILE, which must be new")->type_name("FILE");
  add_page_options(ask, options.weigh.page, weighing_sections());
  add_rates_option(ask, options.weigh.rates_directory);
  add_simulation_options(ask, options.weigh.settings, "Futures to simulate (default 20000)");
}

void add_weigh(CLI::App& app, WeighOptions& options) {
  CLI::App* weigh = app.add_subcommand("weigh", "Weighs repair against replacement for one case.");
  weigh->footer(std::string(weigh_examples) + exit_codes);
  add_case_argument(weigh, options.case_path);
  weigh->add_option("beside", options.beside_paths, "Further cases, shown beside the first")->type_name("CASE");
  add_page_options(weigh, options.page, weighing_sections());
  add_overrides_option(weigh, options.overrides);
  add_rates_option(weigh, options.rates_directory);
  add_drawer_option(weigh, options.drawer_path);
  add_simulation_options(weigh, options.settings, "Futures to simulate (default 100000)");
  add_converted(weigh, "--date", "YYYY-MM-DD", "Today, for the guarantee (default: the clock)",
                day_into(options.settings.today));
  add_out_option(weigh, options.out_path);
}

void add_buy(CLI::App& app, BuyOptions& options) {
  CLI::App* buy = app.add_subcommand("buy", "Says what to order for a repair, from whom and how many.");
  buy->footer(std::string(buy_examples) + exit_codes);
  add_case_argument(buy, options.case_path);
  add_page_options(buy, options.page, buying_sections());
  add_overrides_option(buy, options.overrides);
  buy->add_option("--pieces", options.pieces,
                  "Pieces wanted of a part, in place of what the\nbest repair needs; may be repeated")
      ->type_name("PART=N")
      ->allow_extra_args(false);
  add_converted(buy, "--baskets", "N", "Baskets to list (default 5)",
                number_into(options.settings.baskets, 1, most_baskets));
  add_rates_option(buy, options.rates_directory);
  add_drawer_option(buy, options.drawer_path);
  add_simulation_options(buy, options.settings, "Futures to choose the repair by (default 20000)");
  add_out_option(buy, options.out_path);
}

void add_check(CLI::App& app, CheckOptions& options) {
  CLI::App* check = app.add_subcommand("check", "Checks files: names every problem, weighs nothing.");
  check->footer(exit_codes);
  check
      ->add_option("files", options.paths,
                   "Cases, shops, rates, drawers, histories or\nquotations; - reads standard input")
      ->type_name("FILE")
      ->required();
  check->add_flag("--decimal-comma", options.decimal_comma, "1,5 in a table is one and a half");
  add_converted(check, "--format", "FORMAT", "text (default) or json",
                choice_into(options.format, Choices<Format>{{"text", Format::text}, {"json", Format::json}}));
  add_rates_option(check, options.rates_directory);
}

void add_new(CLI::App& app, NewOptions& options) {
  CLI::App* fresh = app.add_subcommand("new", "Writes a commented case or shop to start from.");
  fresh->add_option("file", options.path, "File to create; without it, standard output")->type_name("FILE");
  fresh->add_flag("--every-key", options.every_key, "Show every key there is");
  fresh->add_flag("--shop", options.shop, "A shop file, for 'quote': it shows every key");
}

void add_rates(CLI::App& app, RatesOptions& options) {
  CLI::App* rates = app.add_subcommand("rates", "Lists the trade figures and their sources.");
  add_rates_option(rates, options.rates_directory);
  add_page_options(rates, options.page, rates_sections());
}

void add_lifetime(CLI::App& app, LifetimeOptions& options) {
  CLI::App* lifetime = app.add_subcommand("lifetime", "Estimates from a record how long a part lasts.");
  lifetime->footer(std::string(lifetime_examples) + exit_codes);
  lifetime->add_option("history", options.history_path, "CSV file; - reads standard input")
      ->type_name("HISTORY")
      ->required();
  lifetime->add_option("--part", options.reading.part, "Only rows whose column 'part' says NAME")
      ->type_name("NAME");
  lifetime->add_option("--group", options.reading.group_column, "Compare the values of this column")
      ->type_name("COLUMN");
  lifetime->add_flag("--decimal-comma", options.reading.decimal_comma, "1,5 is one and a half");
  add_converted(lifetime, "--confidence", "C", "Of the limits, as a fraction (default 0.95)",
                decimal_into([&options](double c) { options.settings.confidence = c; }, 0.5, 0.999,
                             "a fraction from 0.5 to 0.999"));
  add_repeatable(lifetime, "--at", "AGE", "Share still working at AGE; may be repeated",
                 decimal_into([&options](double age) { options.settings.times.push_back(age); },
                              std::numeric_limits<double>::min(), largest_age, "an age above 0"));
  add_converted(lifetime, "--assumed-shape", "B", "Weibull shape where nothing failed (default 2)",
                decimal_into([&options](double shape) { options.settings.assumed_shape = shape; },
                             least_shape, largest_shape, "a shape from 0.1 to 20"));
  add_page_options(lifetime, options.page, lifetime_sections());
  lifetime->add_option("--plot", options.plot_path, "Draw Weibull paper into FILE, as SVG")
      ->type_name("FILE");
  lifetime->add_option("--rates-out", options.rates_path, "Write rates with an entry for each group")
      ->type_name("FILE");
  lifetime->add_option("--rates-name", options.rates_name, "Name of the entry (default: the part's)")
      ->type_name("NAME");
  add_out_option(lifetime, options.out_path);
}

void add_drawer(CLI::App& app, DrawerOptions& options) {
  CLI::App* drawer = app.add_subcommand("drawer", "Lists the spare parts on hand; adds and takes.");
  drawer->footer(std::string(drawer_examples) + exit_codes);
  drawer->add_option("file", options.path, "CSV file; to list, - reads standard input")
      ->type_name("FILE")
      ->required();
  drawer->add_option("--add", options.add, "Put pieces of this candidate in")->type_name("NAME");
  drawer->add_option("--take", options.take, "Take pieces of it out, the oldest first")->type_name("NAME");
  add_converted(drawer, "--pieces", "N", "How many to add or take (default 1)",
                number_into(options.pieces, 1, most_drawer_pieces));
  add_converted(drawer, "--since", "YYYY-MM-DD", "When the added came in (default: today)",
                day_into(options.since));
  drawer->add_option("--note", options.note, "A note on the added pieces")->type_name("TEXT");
  add_page_options(drawer, options.page, drawer_sections());
}

void add_bulk(CLI::App& app, BulkOptions& options) {
  CLI::App* bulk = app.add_subcommand("bulk", "What a fleet or a shop should buy of a part.");
  bulk->footer(std::string(bulk_examples) + exit_codes);
  add_case_argument(bulk, options.case_path);
  add_page_options(bulk, options.page, bulk_sections());
  BulkSettings& settings = options.settings;
  const auto add_whole = [bulk](const char* name, const char* help, std::vector<int>& target) {
    add_repeatable(bulk, name, "N", help, [&target](const std::string& word) -> std::string {
      const auto value = whole_number(word, 1, most_bulk_pieces);
      if (!value) return fmt::format("wants a whole number from 1 to {}", most_bulk_pieces);
      target.push_back(static_cast<int>(*value));
      return {};
    });
  };
  add_whole("--quantity", "Look at buying N pieces too; may be repeated", settings.quantities);
  add_whole("--devices", "A fleet of N instead; may be repeated", settings.devices);
  add_repeatable(bulk, "--jobs-per-month", "N", "So many jobs instead; may be repeated",
                 decimal_into([&settings](double jobs) { settings.jobs.push_back(jobs); }, least_jobs,
                              most_jobs, "a number above 0, at most 100000"));
  add_converted(bulk, "--until", "YEARS", "Chance of running out before then",
                decimal_into([&settings](double years) { settings.until = years; }, least_years, most_years,
                             "a number of years above 0, at most 1000"));
  bulk->add_option("--quotation", options.quotation_paths, "Prices as quoted, CSV; may be repeated")
      ->type_name("FILE")
      ->allow_extra_args(false);
  // Bound to the optional, CLI11 would count the flag and so set it to false where it is not given.
  bulk->add_flag_callback(
      "--decimal-comma", [&options] { options.quotations.decimal_comma = true; },
      "1,5 in a quotation is one and a half");
  add_overrides_option(bulk, options.overrides);
  add_rates_option(bulk, options.rates_directory);
  add_seed_option(bulk, settings.seed);
  add_out_option(bulk, options.out_path);
}

void add_schema(CLI::App& app, SchemaOptions& options) {
  CLI::App* command = app.add_subcommand("schema", "Prints the JSON Schema of a command's answer.");
  Choices<std::string> choices;
  std::string list;
  for (const std::string& name : schema_names()) {
    choices.emplace_back(name, name);
    list += (list.empty() ? "" : ", ") + name;
  }
  std::string help;
  constexpr int help_width = 50;
  for (const std::string& line : wrapped(list, help_width)) help += (help.empty() ? "" : "\n") + line;
  add_converted(command, "command", "COMMAND", help, choice_into(options.command, choices));
}

void add_help(CLI::App& app, std::string& command) {
  app.add_subcommand("help", "Says what a command is for and what it takes.")
      ->add_option("command", command, "One of the commands")
      ->type_name("COMMAND");
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

int help_command(const CLI::App& app, const std::string& command, const Streams& streams) {
  const std::vector<std::string> names = command_names(app);
  if (!command.empty() && std::find(names.begin(), names.end(), command) == names.end())
    throw UsageError(with_suggestion(fmt::format("there is no command '{}'", command), command, names));
  streams.out << (command.empty()
                      ? app.get_formatter()->make_help(&app, app.get_name(), CLI::AppFormatMode::Normal)
                      : app.get_subcommand(command)->help("mendworth"));
  return answered;
}

int run_selected(const CLI::App& app, const Selected& selected, const Streams& streams,
                 const Surroundings& surroundings) {
  const std::string name = chosen_command(app)->get_name();
  if (name == "ask") return ask_command(selected.ask, streams, surroundings);
  if (name == "help") return help_command(app, selected.help, streams);
  if (name == "weigh") return weigh_command(selected.weigh, streams, surroundings);
  if (name == "buy") return buy_command(selected.buy, streams, surroundings);
  if (name == "check") return check_command(selected.check, streams);
  if (name == "new") return new_command(selected.fresh, streams);
  if (name == "rates") return rates_command(selected.rates, streams, surroundings);
  if (name == "lifetime") return lifetime_command(selected.lifetime, streams, surroundings);
  if (name == "drawer") return drawer_command(selected.drawer, streams, surroundings);
  if (name == "quote") return quote_command(selected.quote, streams, surroundings);
  if (name == "rows") return rows_command(selected.rows, streams, surroundings);
  if (name == "bulk") return bulk_command(selected.bulk, streams, surroundings);
  return schema_command(selected.schema, streams);
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
  add_ask(app, selected.ask);
  add_weigh(app, selected.weigh);
  add_buy(app, selected.buy);
  add_check(app, selected.check);
  add_new(app, selected.fresh);
  add_rates(app, selected.rates);
  add_lifetime(app, selected.lifetime);
  add_drawer(app, selected.drawer);
  add_bulk(app, selected.bulk);
  add_quote(app, selected.quote);
  add_rows(app, selected.rows);
  add_schema(app, selected.schema);
  add_help(app, selected.help);

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
