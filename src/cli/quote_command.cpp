#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <ostream>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/destination.hpp"
#include "cli/exit_code.hpp"
#include "cli/problem_text.hpp"
#include "cli/quote_again.hpp"
#include "cli/quote_record.hpp"
#include "cli/record_folder.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

constexpr int most_numbers_a_day = 9999;
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
    "  mendworth quote case.toml --shop shop.toml --page shop --show prices,margin\n"
    "  mendworth quote case.toml --shop shop.toml --record quotes\n"
    "  mendworth quote --again quotes/20260301-01\n"
    "  mendworth quote case.toml --shop shop.toml --declined --minutes-spent 20\n\n";

void check_use(const QuoteOptions& options) {
  if (options.case_path.empty() == !options.again) {
    throw UsageError("a case file is wanted, or --again with the folder of a record alone");
  }
  if (options.minutes_spent && !options.declined) {
    throw UsageError("--minutes-spent goes with --declined: it is what the invoice charges");
  }
  if (options.declined && options.page == QuoteOptions::Page::shop) {
    throw UsageError("--declined makes an invoice, which has no page for the shop");
  }
  if (options.record_directory && (options.record_directory->empty() || *options.record_directory == "-")) {
    throw UsageError(fmt::format("--record wants a folder for records, not '{}'", *options.record_directory));
  }
  const std::array<std::optional<std::string>, 3> inputs = {options.case_path, options.shop_path,
                                                            options.drawer_path};
  if (std::ranges::count(inputs, "-") > 1) {
    throw UsageError("only one of case, shop and drawer can be read from standard input");
  }
  require_key_value(options.overrides);
}

[[noreturn]] void fail_taken(const std::string& place) {
  throw FileError(place + ": exists already and is left as it is; choose another number");
}

// What can be said of the record before the work is done.
void check_record_place(const QuoteOptions& options) {
  if (!options.record_directory) return;
  require_record_directory(*options.record_directory);
  const auto& number = options.settings.number;
  if (number && record_exists(*options.record_directory, *number)) {
    fail_taken(record_place(*options.record_directory, *number));
  }
}

QuoteInputs read_inputs(const QuoteOptions& options) {
  QuoteInputs inputs;
  inputs.case_text = read_text_file(options.case_path);
  if (options.shop_path) inputs.shop_text = read_text_file(*options.shop_path);
  if (options.drawer_path) inputs.drawer_text = read_text_file(*options.drawer_path, largest_drawer);
  if (options.rates_directory) inputs.rates = read_rates_directory(*options.rates_directory);
  return inputs;
}

std::string number_of_day(const Date& date, int n) {
  return fmt::format("{:04}{:02}{:02}-{:02}", date.year, date.month, date.day, n);
}

/// Keeps the record; its place. Without a stated number the first that is free on that day.
std::string keep_record(Quote& quote, const QuoteInputs& inputs, const QuoteOptions& options,
                        QuoteSettings settings) {
  const std::string& directory = *options.record_directory;
  const bool stated = options.settings.number.has_value();
  const int tries = stated ? 1 : most_numbers_a_day;
  for (int n = 1; n <= tries; ++n) {
    const std::string number = stated ? *options.settings.number : number_of_day(settings.date, n);
    if (record_exists(directory, number)) continue;
    set_number(quote, number);
    settings.number = number;
    if (add_record(directory, number, record_of(quote, inputs, options, settings)))
      return record_place(directory, number);
  }
  if (stated) fail_taken(record_place(directory, *options.settings.number));
  throw FileError(fmt::format("{}: every number from {} to {} is taken; choose one with --number", directory,
                              number_of_day(settings.date, 1), number_of_day(settings.date, tries)));
}

}  // namespace

int quote_command(const QuoteOptions& options, const Streams& streams, const Surroundings& surroundings) {
  check_use(options);
  if (options.again) return quote_again(options, streams, surroundings);
  check_record_place(options);
  AnswerOutput out = page_output(options, surroundings);
  const QuoteInputs inputs = read_inputs(options);

  QuoteSettings settings = options.settings;
  settings.date = options.date ? *options.date : today(surroundings);
  settings.shop_page = options.page == QuoteOptions::Page::shop || options.record_directory.has_value();
  if (options.declined) settings.declined = QuoteSettings::Declined{options.minutes_spent};
  // The number of the record may turn out to be a later one, if another command is quicker.
  if (options.record_directory && !settings.number) settings.number = number_of_day(settings.date, 1);

  QuoteResult result = quote_from(inputs, options, settings);
  if (result.refusal) return refuse(*result.refusal, streams.err, message_columns(surroundings));
  Quote& quote = result.quote.value();

  for (const std::string& remark : quote.remarks)
    streams.err << message_text("mendworth: note: " + remark, message_columns(surroundings));
  std::optional<std::string> kept;
  if (options.record_directory) kept = keep_record(quote, inputs, options, settings);
  write_page(quote, options, out, streams);
  if (kept) streams.err << printable(*kept) << ": written\n";
  return answered;
}

namespace {

void add_page(OptionSet& set, QuoteOptions& options) {
  using Page = QuoteOptions::Page;
  set.converted({"--page", "PAGE", "customer (default) or shop, which shows costs"},
                choice_into(options.page, Choices<Page>{{"customer", Page::customer}, {"shop", Page::shop}}));
  add_page_options(set, options.looks, shop_sections());
  add_out_option(set, options.looks.out_path);
  set.text({"--record", "DIR", "Keep a record DIR/NUMBER"}, options.record_directory);
  set.converted({"--number", "NUMBER", "Of the quote: letters, digits, '-', '_', '.'"},
                [&options](const std::string& word) -> std::string {
                  if (!is_record_number(word))
                    return "wants 1 to 40 letters, digits, '-', '_' or '.', the first no '.'";
                  options.settings.number = word;
                  return {};
                });
  set.converted({"--date", "YYYY-MM-DD", "Of the quote (default: today)"}, day_into(options.date));
}

void add_job(OptionSet& set, QuoteOptions& options) {
  QuoteSettings& settings = options.settings;
  set.converted({"--choice", "CHOICE", "Propose failed-only, with-mates or every-original"},
                choice_into(settings.choice, job_choices()));
  set.converted({"--ceiling", "C", "No bill above what holds in a share C of the jobs"},
                decimal_into([&settings](double c) { settings.ceiling = c; }, least_confidence,
                             most_confidence, "a fraction from 0.5 to 0.999"));
  set.flag("--rush", "Before its turn", settings.rush);
  set.flag("--collection", "Fetched and brought back", settings.collection);
  set.flag("--parts-from-customer", "The customer brings the parts", settings.parts_from_customer);
  set.flag("--declined", "An invoice for the diagnosis instead", options.declined);
  set.converted({"--minutes-spent", "N", "With --declined: spent in all; the fee pays for some"},
                decimal_into([&options](double minutes) { options.minutes_spent = minutes; }, 0, most_minutes,
                             "a number of minutes from 0 to 100000"));
  set.flag("--despite-owner-loss", "Quote although the owner loses; the page says so",
           settings.despite_owner_loss);
}

}  // namespace

RunCommand set_up_quote(OptionSet& set) {
  const auto options = std::make_shared<QuoteOptions>();
  set.examples(quote_examples);
  set.text({"case", "CASE", "Case file; - reads standard input"}, options->case_path);
  set.text({"--shop", "SHOP", "How the shop charges"}, options->shop_path);
  add_page(set, *options);
  add_job(set, *options);
  set.text({"--again", "DIR/NUMBER", "Remake a record; say if a page differs"}, options->again);
  add_case_options(set, *options);
  add_drawer_option(set, *options);
  add_simulation_options(set, options->settings);
  return running(options, quote_command);
}

}  // namespace mendworth::cli
