#pragma once

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/values.hpp"

/// What the set-ups of the commands' options share. Like the files cli*.cpp it knows the command line library.
namespace mendworth::cli {

inline constexpr int most_threads = 1024;
inline constexpr int fewest_futures = 100;
inline constexpr int most_futures = 4'000'000;

inline constexpr const char* exit_codes =
    "Exit codes: 0 answered, whatever the verdict; 2 wrong use; 3 an input file is\n"
    "wrong; 4 a file cannot be read or written; 5 refused: the job must not be\n"
    "quoted as it stands; 70 a fault of the program; 71 out of memory or threads.";

template <class Convert>
void convert_word(const std::string& name, const std::string& word, const Convert& convert) {
  const std::string problem = convert(word);
  if (problem.empty()) return;
  throw CLI::ValidationError(fmt::format("{} {}, not '{}'", name, problem, word),
                             CLI::ExitCodes::ValidationError);
}

/// Numbers and choices arrive as words: the library's own conversions take "010" for 8 and -1 for a large number.
template <class Convert>
void add_converted(CLI::App* app, const std::string& name, const std::string& value_name,
                   const std::string& help, Convert convert) {
  app->add_option_function<std::string>(
         name, [convert, name](const std::string& word) { convert_word(name, word, convert); }, help)
      ->type_name(value_name);
}

/// The same for an option that may be repeated; each time it takes one word.
template <class Convert>
void add_repeatable(CLI::App* app, const std::string& name, const std::string& value_name,
                    const std::string& help, Convert convert) {
  app->add_option_function<std::vector<std::string>>(
         name,
         [convert, name](const std::vector<std::string>& words) {
           for (const std::string& word : words) convert_word(name, word, convert);
         },
         help)
      ->type_name(value_name)
      ->allow_extra_args(false);
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

inline auto day_into(std::optional<Date>& target) {
  return [&target](const std::string& word) -> std::string {
    target = day(word);
    return target ? "" : "wants a day that exists, as YYYY-MM-DD";
  };
}

/// Low and high are allowed, as the words say.
template <class Keep>
auto decimal_into(Keep keep, double low, double high, const std::string& wanted) {
  return [keep, low, high, wanted](const std::string& word) -> std::string {
    const auto value = decimal_number(word, low, high);
    if (!value) return "wants " + wanted;
    keep(*value);
    return {};
  };
}

template <class Target, class Choice>
auto choice_into(Target& target, std::vector<std::pair<std::string, Choice>> choices) {
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

template <class Choice>
using Choices = std::vector<std::pair<std::string, Choice>>;

inline void add_case_argument(CLI::App* app, std::string& path) {
  app->add_option("case", path, "Case file; - reads standard input")->type_name("CASE")->required();
}

inline void add_overrides_option(CLI::App* app, std::vector<std::string>& overrides) {
  app->add_option("--set", overrides, "Override an entry of the case; may be repeated")
      ->type_name("KEY=VALUE")
      ->allow_extra_args(false);
}

inline void add_drawer_option(CLI::App* app, std::optional<std::string>& path) {
  app->add_option("--drawer", path, "Spare parts on hand; see 'mendworth drawer'")->type_name("FILE");
}

inline void add_seed_option(CLI::App* app, std::uint64_t& seed) {
  add_converted(app, "--seed", "N", "Seed of the random numbers (default 1)",
                number_into(seed, 0, std::numeric_limits<std::uint64_t>::max()));
}

/// `settings` has seed, futures and threads.
template <class Settings>
void add_simulation_options(CLI::App* app, Settings& settings, const std::string& futures_help) {
  add_seed_option(app, settings.seed);
  add_converted(app, "--futures", "N", futures_help,
                number_into(settings.futures, fewest_futures, most_futures));
  add_converted(app, "--threads", "N", "Threads; 0 (default): all. Never changes an answer",
                number_into(settings.threads, 0, most_threads));
}

inline void add_out_option(CLI::App* app, std::optional<std::string>& path) {
  app->add_option("--out", path, "Write to FILE, whole or not at all")->type_name("FILE");
}

inline void add_rates_option(CLI::App* app, std::optional<std::string>& directory) {
  app->add_option("--rates", directory, "Lay the *.toml of DIR over the built-in rates")->type_name("DIR");
}

inline void add_color_option(CLI::App* app, ColorChoice& color) {
  add_converted(app, "--color", "WHEN", "auto (default), always or never",
                choice_into(color, Choices<ColorChoice>{{"auto", ColorChoice::automatic},
                                                        {"always", ColorChoice::always},
                                                        {"never", ColorChoice::never}}));
}

}  // namespace mendworth::cli
