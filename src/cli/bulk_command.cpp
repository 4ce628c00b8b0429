#include <iterator>
#include <string>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/vary.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

namespace {

constexpr std::uint64_t most_bulk_pieces = 100'000;
constexpr double least_jobs = 1e-3, most_jobs = 1e5;
constexpr double least_years = 1e-3, most_years = 1000;

const char* const bulk_examples =
    "The case has a section [bulk]: devices and failed for a fleet of equal devices,\n"
    "or jobs_per_month for a shop. A quotation is CSV with a header row. Columns:\n"
    "candidate, from, each; if known supplier, currency, least, multiple, lead_days.\n\n"
    "Examples:\n"
    "  mendworth bulk case.toml\n"
    "  mendworth bulk case.toml --quantity 500 --until 2\n"
    "  mendworth bulk case.toml --quotation offer.csv --quotation other.csv\n"
    "  mendworth bulk shop.toml --jobs-per-month 2 --jobs-per-month 6\n\n";

struct BulkOptions : CaseInput {
  PageOptions page;
  std::vector<std::string> quotation_paths;  ///< CSV
  QuotationOptions quotations;
  std::vector<VariedKey> vary;  ///< a curve in place of the answer
  BulkSettings settings;        ///< quotations are read from the paths
};

int bulk_command(const BulkOptions& options, const Streams& streams, const Surroundings& surroundings) {
  std::vector<std::optional<std::string>> inputs(options.quotation_paths.begin(),
                                                 options.quotation_paths.end());
  inputs.emplace_back(options.case_path);
  BulkSettings settings = options.settings;
  for (const std::string& path : options.quotation_paths) {
    auto ladders = read_quotation(read_text_file(path), path, options.quotations);
    settings.quotations.insert(settings.quotations.end(), std::make_move_iterator(ladders.begin()),
                               std::make_move_iterator(ladders.end()));
  }
  if (!options.vary.empty()) {
    const auto point_of = [&](const Case& c, const RateBook& rates) {
      return bulk_what_if(c, rates, settings);
    };
    write_curve(options, curve_of("bulk", "expected cost", settings, options.vary), options.page, point_of,
                streams, surroundings);
    return answered;
  }
  AnswerOutput out(options.page, bulk_sections(), inputs, surroundings);
  const CaseRead read = case_from(options);
  const auto answer_of = [&](const Case& c) { return bulk_what_if(c, read.rates, settings); };
  out.write(Compared<BulkAnswer>{answer_of(read.c), answers_beside(read.c, answer_of)}, streams);
  return answered;
}

OptionSet::Convert whole_into(std::vector<int>& target) {
  return [&target](const std::string& word) {
    int value = 0;
    std::string problem = number_into(value, 1, most_bulk_pieces)(word);
    if (problem.empty()) target.push_back(value);
    return problem;
  };
}

}  // namespace

RunCommand set_up_bulk(OptionSet& set) {
  const auto options = std::make_shared<BulkOptions>();
  BulkSettings& settings = options->settings;
  set.examples(bulk_examples);
  add_case_argument(set, *options);
  add_page_options(set, options->page, bulk_sections());
  set.repeatable({"--quantity", "N", "Look at buying N pieces too; may be repeated"},
                 whole_into(settings.quantities));
  set.repeatable({"--devices", "N", "A fleet of N instead; may be repeated"}, whole_into(settings.devices));
  set.repeatable({"--jobs-per-month", "N", "So many jobs instead; may be repeated"},
                 decimal_into([&settings](double jobs) { settings.jobs.push_back(jobs); }, least_jobs,
                              most_jobs, "a number above 0, at most 100000"));
  set.converted({"--until", "YEARS", "Chance of running out before then"},
                decimal_into([&settings](double years) { settings.until = years; }, least_years, most_years,
                             "a number of years above 0, at most 1000"));
  set.texts({"--quotation", "FILE", "Prices as quoted, CSV; may be repeated"}, options->quotation_paths);
  set.flag("--decimal-comma", "1,5 in a quotation is one and a half", options->quotations.decimal_comma);
  add_case_options(set, *options);
  add_seed_option(set, settings.seed);
  add_vary_option(set, options->vary);
  add_out_option(set, options->page.out_path);
  return running(options, bulk_command);
}

}  // namespace mendworth::cli
