#include <algorithm>

#include "cli/cli_table.hpp"
#include "manual/manual.hpp"

namespace mendworth::manual {

namespace {

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : " ") + word;
  return out;
}

/// Between single quotes of a shell.
std::string in_quotes(const std::string& text) {
  std::string out = "'";
  for (const char c : text) out += c == '\'' ? "'\\''" : std::string(1, c);
  return out + "'";
}

std::vector<std::string> names_of(CLI::Option& option) {
  std::vector<std::string> names;
  for (const std::string& name : option.get_snames()) names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) names.push_back("--" + name);
  return names;
}

std::vector<std::string> command_names(CLI::App& program) {
  std::vector<std::string> names;
  for (CLI::App* command : commands_of(program)) names.push_back(command->get_name());
  return names;
}

/// The options that help shows, and the words that stand alone.
struct Parts {
  std::vector<CLI::Option*> options, words;
};
Parts parts_of(CLI::App& command) {
  Parts parts;
  for (CLI::Option* option : command.get_options()) {
    if (option->get_group().empty()) continue;
    (option->get_positional() ? parts.words : parts.options).push_back(option);
  }
  return parts;
}

/// What may stand where a command wants a word: of 'help', a command.
Values words_of(CLI::App& program, CLI::App& command) {
  const Parts parts = parts_of(command);
  if (parts.words.empty()) return {};
  Values values = values_of(*parts.words.front());
  if (command.get_name() == "help") values.words = command_names(program);
  return values;
}

bool takes_value(CLI::Option& option) { return option.get_items_expected_max() > 0; }

// --- bash ---

std::string bash_answer(const Values& values) {
  if (values.folders) return "compgen -d -- \"$cur\"";
  if (values.files) return "compgen -f -- \"$cur\"";
  if (values.words.empty()) return ":";
  return "compgen -W " + in_quotes(joined(values.words)) + " -- \"$cur\"";
}

std::string bash_command(CLI::App& program, CLI::App& command) {
  std::string text = "    " + command.get_name() + ")\n      case $prev in\n";
  std::vector<std::string> names;
  for (CLI::Option* option : parts_of(command).options) {
    const auto own = names_of(*option);
    names.insert(names.end(), own.begin(), own.end());
    if (takes_value(*option))
      text += "        " + own.back() + ") _mendworth_take \"$(" + bash_answer(values_of(*option)) +
              ")\"; return ;;\n";
  }
  return text + "      esac\n      case $cur in\n        -*) _mendworth_take \"$(compgen -W " +
         in_quotes(joined(names)) + " -- \"$cur\")\" ;;\n        *) _mendworth_take \"$(" +
         bash_answer(words_of(program, command)) + ")\" ;;\n      esac\n      ;;\n";
}

// --- zsh ---

/// In a specification of _arguments a colon and a bracket have a meaning.
std::string zsh_words(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == ':' || c == '[' || c == ']' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string zsh_action(const Values& values, bool list) {
  if (values.folders) return "_files -/";
  if (values.files) return "_files";
  if (values.words.empty()) return " ";
  return (list ? "_values -s , value " : "(") + joined(values.words) + (list ? "" : ")");
}

std::string zsh_command(CLI::App& program, CLI::App& command) {
  std::string text = "    " + command.get_name() + ")\n      _arguments";
  for (CLI::Option* option : parts_of(command).options) {
    const Values values = values_of(*option);
    const bool list = option->get_delimiter() == ',';
    for (const std::string& name : names_of(*option)) {
      std::string spec = name + "[" + zsh_words(one_line_help(option->get_description())) + "]";
      if (takes_value(*option))
        spec += ":" + zsh_words(option->get_type_name()) + ":" + zsh_action(values, list);
      text += " \\\n        " + in_quotes(spec);
    }
  }
  const Values words = words_of(program, command);
  if (!parts_of(command).words.empty())
    text += " \\\n        " + in_quotes("*:" + parts_of(command).words.front()->get_type_name() + ":" +
                                        zsh_action(words, false));
  return text + "\n      ;;\n";
}

}  // namespace

std::string bash_completion(CLI::App& program) {
  std::string text =
      "# bash completion for mendworth; made from the tables of options that --help is made from.\n"
      "_mendworth_take() {\n"
      "  local IFS=$'\\n'\n"
      "  COMPREPLY=($1)\n"
      "}\n"
      "_mendworth() {\n"
      "  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command= i\n"
      "  for ((i = 1; i < COMP_CWORD; i++)); do\n"
      "    case ${COMP_WORDS[i]} in\n"
      "      -*) ;;\n"
      "      *) command=${COMP_WORDS[i]}; break ;;\n"
      "    esac\n"
      "  done\n"
      "  COMPREPLY=()\n"
      "  case $command in\n";
  for (CLI::App* command : commands_of(program)) text += bash_command(program, *command);
  return text + "    '') _mendworth_take \"$(compgen -W " +
         in_quotes(joined(command_names(program)) + " --help --version") +
         " -- \"$cur\")\" ;;\n  esac\n}\ncomplete -o filenames -F _mendworth mendworth\n";
}

std::string zsh_completion(CLI::App& program) {
  std::string text =
      "#compdef mendworth\n"
      "# Made from the tables of options that --help is made from.\n"
      "_mendworth() {\n"
      "  local -a commands\n"
      "  commands=(\n";
  for (CLI::App* command : commands_of(program)) {
    text += "    " +
            in_quotes(command->get_name() + ":" + zsh_words(one_line_help(command->get_description()))) +
            "\n";
  }
  text +=
      "  )\n"
      "  if (( CURRENT == 2 )); then\n"
      "    _describe command commands\n"
      "    _arguments '--help[Print this help message and exit]' '--version[Print the version and exit]'\n"
      "    return\n"
      "  fi\n"
      "  local command=$words[2]\n"
      "  shift words\n"
      "  (( CURRENT-- ))\n"
      "  case $command in\n";
  for (CLI::App* command : commands_of(program)) text += zsh_command(program, *command);
  return text + "  esac\n}\n_mendworth \"$@\"\n";
}

std::string fish_completion(CLI::App& program) {
  std::string text =
      "# fish completion for mendworth; made from the tables of options that --help is made from.\n"
      "complete -c mendworth -f\n"
      "complete -c mendworth -n __fish_use_subcommand -l help -d 'Print this help message and exit'\n"
      "complete -c mendworth -n __fish_use_subcommand -l version -d 'Print the version and exit'\n";
  for (CLI::App* command : commands_of(program)) {
    const std::string given = " -n '__fish_seen_subcommand_from " + command->get_name() + "'";
    text += "complete -c mendworth -n __fish_use_subcommand -a " + command->get_name() + " -d " +
            in_quotes(one_line_help(command->get_description())) + "\n";
    const auto follow = [](const Values& values) -> std::string {
      if (values.folders) return " -xa '(__fish_complete_directories)'";
      if (values.files) return " -F";
      return values.words.empty() ? "" : " -a " + in_quotes(joined(values.words));
    };
    for (CLI::Option* option : parts_of(*command).options) {
      text += "complete -c mendworth" + given;
      for (const std::string& name : option->get_snames()) text += " -s " + name;
      for (const std::string& name : option->get_lnames()) text += " -l " + name;
      if (takes_value(*option)) text += " -r" + follow(values_of(*option));
      text += " -d " + in_quotes(one_line_help(option->get_description())) + "\n";
    }
    const std::string words = follow(words_of(program, *command));
    if (!words.empty()) text.append("complete -c mendworth").append(given).append(words).append("\n");
  }
  return text;
}

}  // namespace mendworth::manual
