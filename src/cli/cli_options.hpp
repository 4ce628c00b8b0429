#pragma once

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdint>
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
    "quoted as it stands; 70 a fault of the program.";

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

inline void add_rates_option(CLI::App* app, std::optional<std::string>& directory) {
  app->add_option("--rates", directory, "Lay the *.toml of DIR over the built-in rates")->type_name("DIR");
}

inline void add_color_option(CLI::App* app, ColorChoice& color) {
  add_converted(
      app, "--color", "WHEN", "auto (default), always or never",
      choice_into(color, std::vector<std::pair<std::string, ColorChoice>>{{"auto", ColorChoice::automatic},
                                                                          {"always", ColorChoice::always},
                                                                          {"never", ColorChoice::never}}));
}

}  // namespace mendworth::cli
