#include "manual/manual.hpp"

#include "cli/cli_table.hpp"

namespace mendworth::manual {

namespace {

/// What stands between two marks, absent marks giving nothing.
std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t start = text.find(from);
  if (start == std::string::npos) return {};
  const std::size_t begin = start + from.size();
  return text.substr(begin, text.find(to, begin) - begin);
}

std::vector<std::string> words_of(const std::string& list) {
  std::vector<std::string> words;
  for (std::size_t at = 0; at < list.size();) {
    const std::size_t end = std::min(list.find(", ", at), list.size());
    words.push_back(list.substr(at, end - at));
    at = end + 2;
  }
  return words;
}

/// What an option says of a word that it does not know: "--format wants one of text, csv, not '?'".
std::string complaint_of(CLI::Option& option) {
  std::string complaint;
  try {
    option.add_result("?");
    option.run_callback();
  } catch (const CLI::ParseError& error) {
    complaint = error.what();
  }
  option.clear();
  return complaint;
}

}  // namespace

std::vector<CLI::App*> commands_of(CLI::App& program) {
  return program.get_subcommands([](CLI::App*) { return true; });
}

Values values_of(CLI::Option& option) {
  Values values;
  const std::string name = option.get_type_name();
  values.folders = name == "DIR";
  values.files = name == "FILE" || name == "CASE" || name == "CSV" || name == "TOML";
  if (values.files || values.folders || option.get_items_expected_max() == 0) return values;
  values.words = words_of(between(complaint_of(option), " wants one of ", ", not '"));
  if (values.words.empty()) {
    values.words = words_of(between(one_line_help(option.get_description()), "all, or names of: ", "\n"));
    if (!values.words.empty()) values.words.insert(values.words.begin(), "all");
  }
  return values;
}

std::string as_roff(const std::string& text) {
  std::string out;
  bool at_start = true;
  for (const char c : text) {
    if (at_start && (c == '.' || c == '\'')) out += "\\&";
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else {
      out += c;
    }
    at_start = c == '\n';
  }
  return out;
}

std::string one_line_help(const std::string& help) {
  std::string line;
  for (const char c : help) {
    if (c != '\n' && c != ' ') {
      line += c;
    } else if (!line.empty() && line.back() != ' ') {
      line += ' ';
    }
  }
  return line;
}

}  // namespace mendworth::manual
