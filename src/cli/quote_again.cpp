#include "cli/quote_again.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <ostream>

#include "cli/exit_code.hpp"
#include "cli/problem_text.hpp"
#include "cli/quote_record.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"
#include "render/json_command.hpp"

namespace mendworth::cli {

namespace {

namespace fs = std::filesystem;

/// What was asked for when the record was kept; the page to print is of this command.
QuoteOptions kept_options(const CommandRecord& record, const QuoteOptions& now) {
  QuoteOptions kept;
  kept.case_path = record.given<std::string>("case").value_or("");
  kept.shop_path = record.given<std::string>("shop");
  kept.drawer_path = record.given<std::string>("drawer");
  kept.rates_directory = record.given<std::string>("rates");
  kept.overrides = record.given<std::vector<std::string>>("set").value_or(std::vector<std::string>{});
  kept.declined = record.given<bool>("declined").value_or(false);
  kept.minutes_spent = record.given<double>("minutes_spent");

  QuoteSettings& settings = kept.settings;
  settings.number = record.given<std::string>("number");
  const auto date = day(record.given<std::string>("date").value_or(""));
  if (!date) record.refuse("options.date is no day");
  settings.date = *date;
  if (const auto word = record.given<std::string>("choice")) {
    settings.choice = choice_of(job_choices(), *word);
    if (!settings.choice) record.refuse("options.choice is none of the choices");
  }
  settings.ceiling = record.given<double>("ceiling");
  settings.rush = record.given<bool>("rush").value_or(false);
  settings.collection = record.given<bool>("collection").value_or(false);
  settings.parts_from_customer = record.given<bool>("parts_from_customer").value_or(false);
  settings.despite_owner_loss = record.given<bool>("despite_owner_loss").value_or(false);
  settings.seed = record.given<std::uint64_t>("seed").value_or(settings.seed);
  settings.futures = static_cast<int>(
      record.given<std::uint64_t>("futures").value_or(static_cast<std::uint64_t>(settings.futures)));
  settings.threads = now.settings.threads;
  if (kept.declined) settings.declined = QuoteSettings::Declined{kept.minutes_spent};
  return kept;
}

QuoteInputs kept_inputs(const fs::path& folder, const QuoteOptions& kept) {
  QuoteInputs inputs;
  inputs.case_text = read_text_file((folder / "case.toml").string());
  if (kept.shop_path) inputs.shop_text = read_text_file((folder / "shop.toml").string());
  if (kept.drawer_path) inputs.drawer_text = read_text_file((folder / "drawer.csv").string(), largest_drawer);
  if (kept.rates_directory) inputs.rates = read_rates_directory((folder / "rates").string());
  return inputs;
}

/// The pages kept that are not as they were made now, each with what is wrong.
std::vector<std::string> differences(const fs::path& record, const std::vector<RecordFile>& made) {
  std::vector<std::string> wrong;
  for (const RecordFile& file : made) {
    if (file.path.starts_with("inputs/")) continue;
    const fs::path place = record / file.path;
    if (!fs::exists(place)) {
      wrong.push_back(file.path + " is missing");
    } else if (read_text_file(place.string()) != file.bytes) {
      wrong.push_back(file.path + " differs");
    }
  }
  return wrong;
}

}  // namespace

int quote_again(const QuoteOptions& options, const Streams& streams, const Surroundings& surroundings) {
  AnswerOutput out = page_output(options, surroundings);
  const fs::path record = *options.again;
  if (!fs::is_directory(record / "inputs")) {
    throw FileError(
        fmt::format("{}: is no record of a quote; --record DIR keeps one in DIR/NUMBER", record.string()));
  }
  const std::string command_file = (record / "inputs" / "command.json").string();
  const CommandRecord command = read_command_json(read_text_file(command_file), command_file, "quote");
  const QuoteOptions kept = kept_options(command, options);
  const QuoteInputs inputs = kept_inputs(record / "inputs", kept);
  const QuoteResult result = quote_from(inputs, kept, kept.settings);
  if (result.refusal) return refuse(*result.refusal, streams.err, message_columns(surroundings));

  const Quote& quote = *result.quote;
  if (options.page == QuoteOptions::Page::shop && !quote.shop) {
    throw UsageError("the record is of an invoice, which has no page for the shop");
  }
  write_page(quote, options, out, streams);
  const std::vector<std::string> wrong = differences(record, record_of(quote, inputs, kept, kept.settings));
  const auto say = [&](const std::string& words) {
    streams.err << message_text(words, message_columns(surroundings));
  };
  for (const std::string& problem : wrong) say(record.string() + ": " + problem);
  if (wrong.empty()) {
    say(record.string() + ": the pages are the same, byte by byte");
    return answered;
  }
  if (command.program_version != version())
    say(fmt::format("it was kept by version {}, this is {}", command.program_version, version()));
  return bad_data;
}

}  // namespace mendworth::cli
