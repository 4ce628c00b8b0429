#include <CLI/CLI.hpp>

#include "cli/exit_code.hpp"
#include "cli/option_set.hpp"

namespace mendworth::cli {

namespace {

template <class Target>
CLI::Option* option(CLI::App& app, const OptionName& name, Target& target) {
  return app.add_option(name.name, target, name.help)->type_name(name.value);
}

void convert_word(const std::string& name, const std::string& word, const OptionSet::Convert& convert) {
  const std::string problem = convert(word);
  if (problem.empty()) return;
  throw CLI::ValidationError(fmt::format("{} {}, not '{}'", name, problem, word),
                             CLI::ExitCodes::ValidationError);
}

}  // namespace

void OptionSet::examples(const std::string& text) { app_.footer(text + exit_codes); }

void OptionSet::flag(const std::string& name, const std::string& help, bool& target) {
  app_.add_flag(name, target, help);
}

// Bound to the optional, the library would count the flag and so set it to false where it is not given.
void OptionSet::flag(const std::string& name, const std::string& help, std::optional<bool>& target) {
  app_.add_flag_callback(
      name, [&target] { target = true; }, help);
}

void OptionSet::required(const OptionName& name, std::string& target) {
  option(app_, name, target)->required();
}

void OptionSet::required(const OptionName& name, std::vector<std::string>& target) {
  option(app_, name, target)->required();
}

void OptionSet::text(const OptionName& name, std::string& target) { option(app_, name, target); }

void OptionSet::text(const OptionName& name, std::optional<std::string>& target) {
  option(app_, name, target);
}

void OptionSet::texts(const OptionName& name, std::vector<std::string>& target) {
  CLI::Option* added = option(app_, name, target);
  if (name.name.starts_with('-')) added->allow_extra_args(false);
}

void OptionSet::list(const OptionName& name, std::vector<std::string>& target) {
  option(app_, name, target)->delimiter(',')->allow_extra_args(false);
}

void OptionSet::converted(const OptionName& name, const Convert& convert, const std::string& group) {
  const auto take = [convert, name](const std::string& word) { convert_word(name.name, word, convert); };
  CLI::Option* added = app_.add_option_function<std::string>(name.name, take, name.help);
  added->type_name(name.value);
  if (!group.empty()) added->group(group);
}

void OptionSet::repeatable(const OptionName& name, const Convert& convert) {
  const auto take = [convert, name](const std::vector<std::string>& words) {
    for (const std::string& word : words) convert_word(name.name, word, convert);
  };
  app_.add_option_function<std::vector<std::string>>(name.name, take, name.help)
      ->type_name(name.value)
      ->allow_extra_args(false);
}

}  // namespace mendworth::cli
