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
    "candidate, from, each; if known supplier, currency, least, multiple, lead_days.\n"
    "A record of past use is CSV: date, pieces, and part where it is about several;\n"
    "rows of 0 pieces say since when and until when it was kept.\n\n"
    "Examples:\n"
    "  mendworth bulk case.toml\n"
    "  mendworth bulk case.toml --quantity 500 --until 2\n"
    "  mendworth bulk case.toml --quotation offer.csv --quotation other.csv\n"
    "  mendworth bulk fleet.toml other-fleet.toml --drawer drawer.csv\n"
    "  mendworth bulk shop.toml --past-use used.csv\n"
    "  mendworth bulk shop.toml --jobs-per-month 2 --jobs-per-month 6\n\n";

struct BulkOptions : CaseInput {
  PageOptions page;
  std::vector<std::string> beside_paths;     ///< further cases
  std::optional<std::string> past_use_path;  ///< CSV
  QuotationInput quotations;                 ///< each beside the case's offers
  std::vector<VariedKey> vary;               ///< a curve in place of the answer
  BulkSettings settings;                     ///< quotations are read from the paths
};

int bulk_command(const BulkOptions& options, const Streams& streams, const Surroundings& surroundings) {
  std::vector<std::optional<std::string>> inputs(options.quotations.paths.begin(),
                                                 options.quotations.paths.end());
  inputs.emplace_back(options.case_path);
  inputs.insert(inputs.end(), options.beside_paths.begin(), options.beside_paths.end());
  inputs.emplace_back(options.drawer_path);
  inputs.emplace_back(options.past_use_path);
  BulkSettings settings = options.settings;
  settings.quotations = quotations_from(options.quotations);
  if (options.past_use_path)
    settings.past_use = read_past_use(read_text_file(*options.past_use_path), *options.past_use_path);
  if (!options.vary.empty()) {
    if (!options.beside_paths.empty()) throw UsageError("--vary goes with one case");
    settings.turns = false;
    const auto point_of = [&](const Case& c, const RateBook& rates) {
      return bulk_what_if(c, rates, settings);
    };
    write_curve(options, curve_of("bulk", "expected cost", settings, options.vary), options.page, point_of,
                streams, surroundings);
    return answered;
  }
  AnswerOutput out(options.page, bulk_sections(), inputs, surroundings);
  const std::vector<CaseRead> read = cases_from(options, options.beside_paths);
  const auto answer_of = [&](const CaseRead& source, const Case& c) {
    // A table of cases shows nothing of where they turn.
    settings.turns = &c == &read.front().c || out.is_json();
    BulkAnswer answer = bulk_what_if(c, source.rates, settings);
    answer.notes.insert(answer.notes.end(), source.notes.begin(), source.notes.end());
    return answer;
  };
  out.write(compared_answers(read, answer_of), streams);
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
  set.texts({"beside", "CASE", "Further cases, shown beside the first"}, options->beside_paths);
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
  add_quotation_options(set, options->quotations);
  set.text({"--past-use", "FILE",
            "A shop's record of what it used, CSV: the demand\nfollows from it in place of jobs_per_month"},
           options->past_use_path);
  add_case_options(set, *options);
  add_drawer_option(set, *options);
  add_seed_option(set, settings.seed);
  add_vary_option(set, options->vary);
  add_out_option(set, options->page.out_path);
  return running(options, bulk_command);
}

}  // namespace mendworth::cli
