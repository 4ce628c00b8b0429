#include "cli/cli_rows.hpp"

#include "cli/cli_options.hpp"

namespace mendworth::cli {

namespace {

const char* const rows_examples =
    "TABLE is CSV, a device on each line. A heading is a key of the case, or a word\n"
    "that the case's section [rows] maps to one; other columns are copied. What was\n"
    "read comes back with verdict, saving, its standard error, money now and the\n"
    "replacement's price at which the answer turns. A row that is wrong says why in\n"
    "its column 'problem'; the others go on, and the exit code is 3 in the end.\n\n"
    "Examples:\n"
    "  mendworth rows case.toml devices.csv > answers.csv\n"
    "  mendworth rows case.toml devices.csv --format json | head -3\n"
    "  mendworth rows case.toml - --header serial,age < part-of-a-table.csv\n\n";

}  // namespace

void add_rows(CLI::App& app, RowsOptions& options) {
  CLI::App* rows = app.add_subcommand("rows", "Weighs each row of a table, a device on each line.");
  rows->footer(std::string(rows_examples) + exit_codes);
  add_case_argument(rows, options.case_path);
  rows->add_option("table", options.table_path, "CSV file; - reads standard input")
      ->type_name("TABLE")
      ->required();
  add_converted(rows, "--format", "FORMAT", "csv (default), or json: one object a line",
                choice_into(options.json, Choices<bool>{{"csv", false}, {"json", true}}));
  rows->add_option("--header", options.table.header, "The headings, of a table that has none; nor has the\nanswer")
      ->type_name("LIST");
  rows->add_flag("--decimal-comma", options.table.decimal_comma, "1,5 is one and a half");
  add_overrides_option(rows, options.overrides);
  add_rates_option(rows, options.rates_directory);
  add_simulation_options(rows, options.settings, fmt::format("Futures of a row (default {})", usual_row_futures));
}

}  // namespace mendworth::cli
