#include <fmt/format.h>

#include <istream>
#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/output_file.hpp"
#include "cli/values.hpp"
#include "input/questions.hpp"
#include "input/suggest.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"
#include "render/layout.hpp"

namespace mendworth::cli {

namespace {

using input::Answers;
using input::Question;

const char* const ask_examples =
    "Each question is an option too; what is given so is not asked. N is a number or\n"
    "a range, 2..6 or 2..4..9; 'unknown' will do where it stands in brackets.\n\n"
    "Examples:\n"
    "  mendworth ask\n"
    "  mendworth ask --out my-case.toml\n"
    "  mendworth ask --part 0.45 --shipping 4.90 --new 85 --life 7 --age 6 \\\n"
    "    --minutes 60 --hour 12 --yes\n\n";

struct AskOptions {
  std::vector<std::pair<std::string, std::string>> answers;  ///< by the key of a question; each key once
  bool yes = false;                     ///< take what is usual for all that is not said, and ask nothing
  std::optional<std::string> case_out;  ///< a new file for the case
  WeighOptions weigh;                   ///< how it is weighed and shown: no path, overrides, drawer
};

const char* const greeting =
    "Enter takes what stands in [brackets]. A number may be a range: 2..6 or 2..4..9.\n"
    "? explains, 'back' goes back, and 'part=0.5' sets the answer of that name.\n";

/// Questions and answers, a line each; prompts go to the stream for messages, so that results can be redirected.
class Dialogue {
 public:
  Dialogue(Answers& answers, std::istream& in, std::ostream& out, int columns)
      : answers_(answers), in_(in), out_(out), columns_(columns) {}

  /// Asks what is to be asked and was not said, then shows all answers until they are accepted.
  void hold() {
    for (const Question& question : input::questions()) {
      if (question.asked && !answers_.has(question)) open_.push_back(&question);
    }
    if (!open_.empty())
      out_ << greeting
           << fmt::format("Amounts are in {}; 'currency=USD' changes that.\n", answers_.text("currency"));
    ask_from(0);
    while (!accepted()) continue;
  }

  /// Keeps a text in a file if one is wanted; its name.
  std::optional<std::string> keep(const std::string& text) {
    while (true) {
      out_ << "\nKeep the case in a file? Its name, or Enter for no: ";
      out_.flush();
      std::string name;
      const bool wanted = read(name) && !name.empty();
      out_ << '\n';
      if (!wanted) return std::nullopt;
      try {
        write_new_file(name, text);
        return name;
      } catch (const FileError& error) {
        say(error.what());  // all that was answered is not to be lost to a slip in a name
      }
    }
  }

 private:
  enum class Reply { taken, back, other };

  void ask_from(std::size_t first) {
    for (std::size_t i = first; i < open_.size();) {
      if (!answers_.applies(*open_[i]) || ask(*open_[i]) != Reply::back) {
        ++i;
      } else {
        std::size_t before = i;
        while (before > 0 && !answers_.applies(*open_[before - 1])) --before;
        if (before == 0) out_ << "This is the first question.\n";
        i = before == 0 ? i : before - 1;
      }
    }
  }

  Reply ask(const Question& question) {
    while (true) {
      const std::string unit = answers_.unit(question);
      const std::string current = answers_.text(question);
      out_ << fmt::format("\n{}{}{}\n", question.words, unit.empty() ? "" : fmt::format(" ({})", unit),
                          current.empty() ? "" : fmt::format(" [{}]", current));
      // Nobody asks back about a danger that does not come to mind.
      if (question.form == Question::Form::choices) {
        list_names(question);
        out_ << "One or more, with commas between them, or none.\n";
      }
      if (question.form == Question::Form::choice) out_ << "? lists what there is.\n";
      out_ << "> ";
      out_.flush();
      std::string line;
      if (!read(line)) {
        out_ << '\n';
        throw InputError(
            {{"-", lines_, 0, "", fmt::format("the answers end before the question '{}'", question.key),
              "--yes takes what is usual for all that is not said"}});
      }
      const Reply reply = take(question, line);
      if (reply != Reply::other) return reply;
    }
  }

  Reply take(const Question& question, const std::string& line) {
    if (line == "back") return Reply::back;
    if (line == "?") {
      explain(question);
      return Reply::other;
    }
    if (correct(line)) return Reply::other;
    if (line.empty() && !answers_.text(question).empty()) return Reply::taken;
    const std::string problem = line.empty() ? "needs an answer" : give(question, line);
    if (!problem.empty()) {
      say(fmt::format("{} {}.", question.key, problem));
      return Reply::other;
    }
    return Reply::taken;
  }

  /// Takes an answer that will do, by itself and with the others; else what is allowed, and the one before stays.
  std::string give(const Question& question, std::string_view answer) {
    const Answers before = answers_;
    std::string problem = answers_.give(question, answer);
    const auto trouble = answers_.trouble();
    if (problem.empty() && trouble && trouble->question == &question) problem = trouble->problem;
    if (!problem.empty()) answers_ = before;
    return problem;
  }

  /// "part=0.5"; false if the line is none of these.
  bool correct(const std::string& line) {
    const std::size_t equals = line.find('=');
    if (equals == std::string::npos) return false;
    const std::string key = line.substr(0, line.find_last_not_of(" \t", equals == 0 ? 0 : equals - 1) + 1);
    const Question* question = input::find_question(key);
    if (question == nullptr) {
      std::vector<std::string> keys;
      for (const Question& known : input::questions()) keys.emplace_back(known.key);
      say(input::with_suggestion(fmt::format("There is no answer '{}'", printable(key)), key, keys));
      return true;
    }
    const std::string problem = give(*question, std::string_view(line).substr(equals + 1));
    say(problem.empty() ? fmt::format("{}: {}", key, answers_.text(*question))
                        : fmt::format("{} {}.", key, problem));
    return true;
  }

  void explain(const Question& question) {
    say(question.help);
    if (*question.unknown != '\0') say(fmt::format("'{}': {}.", input::not_known, question.unknown));
    list_names(question);
  }

  void list_names(const Question& question) {
    std::string list;
    for (const std::string& name : answers_.names(question)) list += (list.empty() ? "" : ", ") + name;
    if (!list.empty()) say(list);
  }

  void say(const std::string& words) {
    for (const std::string& line : wrapped(printable(words), columns_)) out_ << line << '\n';
  }

  /// Shows the answers and lets them be corrected; true when they are accepted.
  bool accepted() {
    if (const auto trouble = answers_.trouble()) {
      say(fmt::format("{} {}.", trouble->question->key, trouble->problem));
      answers_.forget(*trouble->question);  // not to be offered in brackets
      ask(*trouble->question);
      return false;
    }
    std::vector<const Question*> shown;
    out_ << '\n';
    for (const Question& question : input::questions()) {
      if (!answers_.applies(question) || (!question.asked && !answers_.has(question))) continue;
      shown.push_back(&question);
      out_ << fmt::format("{:>3} {:<10}{} {}\n", shown.size(), question.key, answers_.text(question),
                          answers_.text(question) == input::not_known ? "" : answers_.unit(question));
    }
    out_ << "Enter weighs it; a number corrects that answer: ";
    out_.flush();
    std::string line;
    if (!read(line) || line.empty()) return true;
    if (line == "back") {
      ask_from(open_.empty() ? 0 : open_.size() - 1);
    } else if (const auto number = whole_number(line, 1, shown.size())) {
      ask(*shown[*number - 1]);
    } else if (!correct(line)) {
      say(fmt::format("Not '{}': a number from 1 to {}, NAME=ANSWER, 'back' or Enter.", line, shown.size()));
    }
    return false;
  }

  /// One line without blanks around it; false at the end of the input.
  bool read(std::string& line) {
    if (!std::getline(in_, line)) return false;
    ++lines_;
    const char* const blanks = " \t\r";
    const std::size_t first = line.find_first_not_of(blanks);
    line = first == std::string::npos ? "" : line.substr(first, line.find_last_not_of(blanks) - first + 1);
    return true;
  }

  Answers& answers_;
  std::istream& in_;
  std::ostream& out_;
  std::vector<const Question*> open_;
  int columns_;  ///< for text
  int lines_ = 0;
};

Answers stated_answers(const AskOptions& options, const RateBook& rates) {
  Answers answers(rates);
  for (const auto& [key, answer] : options.answers) {
    const std::string problem = answers.give(*input::find_question(key), answer);
    if (!problem.empty()) throw UsageError(fmt::format("--{} {}, not '{}'", key, problem, answer));
  }
  for (const auto& [key, answer] : options.answers) {
    if (answers.applies(*input::find_question(key))) continue;
    std::string unit = "years, which its age says";
    if (answers.applies(*input::find_question("use"))) unit = "cycles: --use says how many a day";
    if (answers.applies(*input::find_question("hours"))) unit = "hours: --hours says how many a day";
    throw UsageError(fmt::format("--{} does not go with --class {}, whose life is in {}", key,
                                 answers.text("class"), unit));
  }
  return answers;
}

/// What was not said stands in the messages, so that nothing is assumed in silence.
void say_what_was_taken(const Answers& answers, std::ostream& err, int columns) {
  std::string list;
  for (const Question& question : input::questions()) {
    if (!question.asked || !answers.applies(question) || answers.has(question)) continue;
    list += fmt::format("{}{} {}", list.empty() ? "" : ", ", question.key, answers.text(question));
  }
  if (list.empty()) return;
  for (const std::string& line : wrapped("Not said, so taken: " + list + ".", columns)) err << line << '\n';
}

/// Asks at `surroundings.in` for what the options leave open, makes a case of it, keeps that and weighs it. Throws
/// InputError if the answers end before the last question.
int ask_command(const AskOptions& options, const Streams& streams, const Surroundings& surroundings) {
  if (options.case_out && names_standard_output(options.case_out))
    throw UsageError("--out wants a file for the case; the answer goes to standard output");
  if (options.case_out) require_free_place(*options.case_out);
  const RateBook rates = rates_with(options.weigh.rates_directory);
  Answers answers = stated_answers(options, rates);
  Dialogue dialogue(answers, *surroundings.in, streams.err, message_columns(surroundings));
  if (!options.yes) {
    dialogue.hold();
  } else if (const auto trouble = answers.trouble()) {
    throw UsageError(fmt::format("--{} {}", trouble->question->key, trouble->problem));
  } else {
    say_what_was_taken(answers, streams.err, message_columns(surroundings));
  }
  const std::string text = input::case_text(answers);
  CaseRead read{rates, read_case(text, "answers", rates), {}};
  std::optional<std::string> file = options.case_out;
  if (file) {
    write_new_file(*file, text);
  } else if (!options.yes) {
    file = dialogue.keep(text);
  }
  if (file) {
    read.c.source_name = *file;
    streams.err << fmt::format("{0}: written. To weigh it again: mendworth weigh {0}\n", printable(*file));
  }
  AnswerOutput out(options.weigh.page, weighing_sections(), {}, surroundings);
  return weigh_cases({std::move(read)}, options.weigh, out, streams, surroundings);
}

std::string value_name(const Question& question) {
  using Form = Question::Form;
  if (question.form == Form::choice) return "NAME";
  if (question.form == Form::choices) return "NAMES";
  return question.form == Form::name ? "TEXT" : "N";
}

}  // namespace

RunCommand set_up_ask(OptionSet& set) {
  const auto options = std::make_shared<AskOptions>();
  set.examples(ask_examples);
  for (const Question& question : input::questions()) {
    const std::string key = question.key;
    const std::string usual = *question.usual == '\0' ? "" : fmt::format(" [{}]", question.usual);
    set.converted(
        {"--" + key, value_name(question), question.words + usual},
        [options, key](const std::string& word) {
          options->answers.emplace_back(key, word);
          return std::string();
        },
        "Answers");
  }
  set.flag("--yes", "Ask nothing: take what stands in brackets", options->yes);
  set.text({"--out", "FILE", "Keep the case in FILE, which must be new"}, options->case_out);
  add_page_options(set, options->weigh.page, weighing_sections());
  add_rates_option(set, options->weigh.rates_directory);
  add_simulation_options(set, options->weigh.settings);
  return running(options, ask_command);
}

}  // namespace mendworth::cli
