#include "cli/cli_quote.hpp"

#include <string>

#include "cli/cli_options.hpp"
#include "cli/record_folder.hpp"

namespace mendworth::cli {

namespace {

constexpr double least_confidence = 0.5, most_confidence = 0.999;
constexpr double most_minutes = 100'000;

const char* const quote_examples =
    "SHOP says what the shop charges and promises; 'mendworth new --shop' writes one\n"
    "to fill in. Without it: the labour rate of the case, parts at cost, no tax.\n"
    "With --record DIR a folder DIR/NUMBER keeps both pages in all formats and all\n"
    "that was read; one that exists is never changed. Without --number it is the\n"
    "next of YYYYMMDD-01, -02 ... Without --record and --number the page is a draft.\n"
    "--again DIR/NUMBER makes the pages of a record from what it keeps and compares\n"
    "them with those kept, byte by byte: exit code 3 if one differs.\n"
    "A job that the owner loses by, or that the shop has no licence for, is refused:\n"
    "nothing is printed or kept, and the exit code is 5.\n\n"
    "Examples:\n"
    "  mendworth quote case.toml --shop shop.toml\n"
    "  mendworth quote case.toml --shop shop.toml --page shop\n"
    "  mendworth quote case.toml --shop shop.toml --record quotes\n"
    "  mendworth quote --again quotes/20260301-01\n"
    "  mendworth quote case.toml --shop shop.toml --declined --minutes-spent 20\n\n";

void add_page(CLI::App* quote, QuoteOptions& options) {
  using Page = QuoteOptions::Page;
  add_converted(quote, "--page", "PAGE", "customer (default) or shop, which shows costs",
                choice_into(options.page, Choices<Page>{{"customer", Page::customer}, {"shop", Page::shop}}));
  add_converted(quote, "--format", "FORMAT", "text (default), markdown, html or json",
                choice_into(options.format, Choices<PageFormat>{{"text", PageFormat::text},
                                                                {"markdown", PageFormat::markdown},
                                                                {"html", PageFormat::html},
                                                                {"json", PageFormat::json}}));
  add_out_option(quote, options.out_path);
  quote->add_option("--record", options.record_directory, "Keep a record DIR/NUMBER")->type_name("DIR");
  add_converted(quote, "--number", "NUMBER", "Of the quote: letters, digits, '-', '_', '.'",
                [&options](const std::string& word) -> std::string {
                  if (!is_record_number(word))
                    return "wants 1 to 40 letters, digits, '-', '_' or '.', the first no '.'";
                  options.settings.number = word;
                  return {};
                });
  add_converted(quote, "--date", "YYYY-MM-DD", "Of the quote (default: today)", day_into(options.date));
}

void add_job(CLI::App* quote, QuoteOptions& options) {
  using Kind = CustomerChoice::Kind;
  QuoteSettings& settings = options.settings;
  add_converted(quote, "--choice", "CHOICE", "Propose failed-only, with-mates or every-original",
                choice_into(settings.choice, Choices<Kind>{{"failed-only", Kind::failed_only},
                                                           {"with-mates", Kind::with_mates},
                                                           {"every-original", Kind::every_original}}));
  add_converted(quote, "--ceiling", "C", "No bill above what holds in a share C of the jobs",
                decimal_into([&settings](double c) { settings.ceiling = c; }, least_confidence,
                             most_confidence, "a fraction from 0.5 to 0.999"));
  quote->add_flag("--rush", settings.rush, "Before its turn");
  quote->add_flag("--collection", settings.collection, "Fetched and brought back");
  quote->add_flag("--parts-from-customer", settings.parts_from_customer, "The customer brings the parts");
  quote->add_flag("--declined", options.declined, "An invoice for the diagnosis instead");
  add_converted(quote, "--minutes-spent", "N", "With --declined: spent in all; the fee pays for some",
                decimal_into([&options](double minutes) { options.minutes_spent = minutes; }, 0, most_minutes,
                             "a number of minutes from 0 to 100000"));
  quote->add_flag("--despite-owner-loss", settings.despite_owner_loss,
                  "Quote although the owner loses; the page says so");
}

}  // namespace

void add_quote(CLI::App& app, QuoteOptions& options) {
  CLI::App* quote = app.add_subcommand("quote", "Writes a price for the customer, and its cost.");
  quote->footer(std::string(quote_examples) + exit_codes);
  quote->add_option("case", options.case_path, "Case file; - reads standard input")->type_name("CASE");
  quote->add_option("--shop", options.shop_path, "How the shop charges")->type_name("SHOP");
  add_page(quote, options);
  add_job(quote, options);
  quote->add_option("--again", options.again, "Remake a record; say if a page differs")
      ->type_name("DIR/NUMBER");
  add_overrides_option(quote, options.overrides);
  add_rates_option(quote, options.rates_directory);
  add_drawer_option(quote, options.drawer_path);
  add_simulation_options(quote, options.settings, "Futures to simulate (default 20000)");
  add_color_option(quote, options.color);
}

}  // namespace mendworth::cli
