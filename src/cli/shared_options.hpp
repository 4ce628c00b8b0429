#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "cli/answer_output.hpp"
#include "cli/option_set.hpp"
#include "mendworth/bulk.hpp"

/// Groups of options that commands share.
namespace mendworth::cli {

/// Long words of help, broken for its column.
[[nodiscard]] std::string help_lines(const std::string& text);

/// Quotations that a command is given.
struct QuotationInput {
  std::vector<std::string> paths;  ///< CSV
  QuotationOptions options;
};
/// --quotation and --decimal-comma.
void add_quotation_options(OptionSet& set, QuotationInput& input);

/// The case a command is about, and what is laid over it.
struct CaseInput {
  std::string case_path;
  std::vector<std::string> overrides;  ///< "key=value"
  std::optional<std::string> rates_directory;
  std::optional<std::string> drawer_path;  ///< spare parts on hand
  QuotationInput joined;                   ///< whose prices are further offers of the case
};
void add_case_argument(OptionSet& set, CaseInput& input);
/// --set and --rates.
void add_case_options(OptionSet& set, CaseInput& input);
void add_drawer_option(OptionSet& set, CaseInput& input);

void add_rates_option(OptionSet& set, std::optional<std::string>& directory);

/// --format, --show, --table and --color for an answer of these sections.
void add_page_options(OptionSet& set, PageOptions& page, const std::vector<std::string>& sections);

/// The words of --format and --color.
[[nodiscard]] const Choices<Format>& formats();
[[nodiscard]] const Choices<ColorChoice>& color_choices();

/// Absent or "-": standard output.
void add_out_option(OptionSet& set, std::optional<std::string>& path);

inline void add_seed_option(OptionSet& set, std::uint64_t& seed) {
  set.converted({"--seed", "N", "Seed of the random numbers (default 1)"},
                number_into(seed, 0, std::numeric_limits<std::uint64_t>::max()));
}

/// Money, or "2%" of what is at stake.
template <class Settings>
OptionSet::Convert precision_into(Settings& settings) {
  return [&settings](std::string word) -> std::string {
    const bool is_share = !word.empty() && word.back() == '%';
    if (is_share) word.pop_back();
    const auto value = is_share ? decimal_number(word, 0.01, 10) : decimal_number(word, 1e-6, 1e12);
    if (!value) return "wants an amount of money above 0, or a share from 0.01% to 10%";
    settings.precision = is_share ? 0 : *value;
    if (is_share) settings.precision_share = *value / 100;
    return {};
  };
}

/// `settings` has seed, futures, threads and, where it is asked for the saving, precision.
template <class Settings>
void add_simulation_options(OptionSet& set, Settings& settings) {
  constexpr int most_threads = 1024, fewest_futures = 100, most_futures = 4'000'000;
  add_seed_option(set, settings.seed);
  set.converted({"--futures", "N", "Futures to simulate\n(default: as many as the precision takes)"},
                number_into(settings.futures, fewest_futures, most_futures));
  if constexpr (requires { settings.precision; }) {
    set.converted({"--precision", "MONEY|SHARE",
                   fmt::format("Wanted standard error of the saving: money, or\na share of what is at stake "
                               "(default {:g}%); unused\nwith --futures",
                               100 * settings.precision_share)},
                  precision_into(settings));
  }
  set.converted({"--threads", "N", "Threads; 0 (default): all. Never changes an answer"},
                number_into(settings.threads, 0, most_threads));
}

}  // namespace mendworth::cli
