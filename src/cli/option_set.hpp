#pragma once

#include <fmt/format.h>

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/values.hpp"

namespace CLI {
class App;
}

namespace mendworth::cli {

/// What an option is called: "--name", or "name" for a word that stands alone; its value and its meaning in the help.
struct OptionName {
  std::string name, value, help;
};

/// The options of a command, as its file states them. What they fill must live until the command has run.
class OptionSet {
 public:
  /// Takes a word; what is wrong with it, to follow the option's name, or nothing.
  using Convert = std::function<std::string(const std::string& word)>;

  explicit OptionSet(CLI::App& app) : app_(app) {}

  /// Text below the options; the exit codes follow.
  void examples(const std::string& text);
  void flag(const std::string& name, const std::string& help, bool& target);
  void flag(const std::string& name, const std::string& help, std::optional<bool>& target);
  void required(const OptionName& name, std::string& target);
  void required(const OptionName& name, std::vector<std::string>& target);
  void text(const OptionName& name, std::string& target);
  void text(const OptionName& name, std::optional<std::string>& target);
  /// May be repeated; each time it takes one word. Words that stand alone: all that are left.
  void texts(const OptionName& name, std::vector<std::string>& target);
  /// The same for words between commas.
  void list(const OptionName& name, std::vector<std::string>& target);
  /// Numbers and choices arrive as words: the library's own conversions take "010" for 8 and -1 for a large number.
  void converted(const OptionName& name, const Convert& convert, const std::string& group = "");
  /// The same for an option that may be repeated.
  void repeatable(const OptionName& name, const Convert& convert);

 private:
  CLI::App& app_;
};

template <class Number>
OptionSet::Convert number_into(Number& target, std::uint64_t low, std::uint64_t high) {
  return [&target, low, high](const std::string& word) -> std::string {
    const auto value = whole_number(word, low, high);
    if (!value) return fmt::format("wants a whole number from {} to {}", low, high);
    target = static_cast<Number>(*value);
    return {};
  };
}

/// Low and high are allowed, as the words say.
template <class Keep>
OptionSet::Convert decimal_into(Keep keep, double low, double high, const std::string& wanted) {
  return [keep, low, high, wanted](const std::string& word) -> std::string {
    const auto value = decimal_number(word, low, high);
    if (!value) return "wants " + wanted;
    keep(*value);
    return {};
  };
}

inline OptionSet::Convert day_into(std::optional<Date>& target) {
  return [&target](const std::string& word) -> std::string {
    target = day(word);
    return target ? "" : "wants a day that exists, as YYYY-MM-DD";
  };
}

template <class Choice>
using Choices = std::vector<std::pair<std::string, Choice>>;

template <class Choice>
std::optional<Choice> choice_of(const Choices<Choice>& choices, const std::string& word) {
  for (const auto& [name, choice] : choices) {
    if (name == word) return choice;
  }
  return std::nullopt;
}

/// The word for one of the choices.
template <class Choice>
std::string word_for(const Choices<Choice>& choices, Choice wanted) {
  for (const auto& [name, choice] : choices) {
    if (choice == wanted) return name;
  }
  return {};
}

template <class Target, class Choice>
OptionSet::Convert choice_into(Target& target, Choices<Choice> choices) {
  return [&target, choices](const std::string& word) -> std::string {
    if (const auto choice = choice_of(choices, word)) {
      target = *choice;
      return {};
    }
    std::string known;
    for (const auto& entry : choices) known += (known.empty() ? "" : ", ") + entry.first;
    return "wants one of " + known;
  };
}

}  // namespace mendworth::cli
