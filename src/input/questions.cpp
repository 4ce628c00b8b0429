#include "input/questions.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "input/drawer_columns.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

using Form = Question::Form;

constexpr std::size_t longest_name = 100;
constexpr Limits nothing_to_limit{};
constexpr Limits count_limits{.low = 1, .high = most_positions_in_group};
constexpr const char* home_currency = "EUR";
constexpr const char* lists_them = "'mendworth rates' lists them";

std::optional<double> answered_number(std::string_view text) {
  text = trimmed(text);
  if (text.find_first_not_of("0123456789.") != std::string_view::npos) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

bool means_not_known(std::string_view answer) {
  for (const char* words : {not_known, "don't know", "dont know", "do not know", "not known"}) {
    if (edit_distance(answer, words) == 0) return true;
  }
  return false;
}

std::string what_is_wanted(const Question& question) {
  const std::string or_unknown = *question.unknown != '\0' ? fmt::format(", or {}", not_known) : "";
  if (question.form == Form::whole) {
    return fmt::format("wants a whole number from {} to {}{}", question.limits.low, question.limits.high,
                       or_unknown);
  }
  return fmt::format("wants a number from {} to {}, or a range as 2..6{}", question.limits.low,
                     question.limits.high, or_unknown);
}

/// What is wrong with a text that is no amount.
std::string notation_problem(const Question& question, std::string_view answer) {
  for (const auto& [mark, wanted] : {std::pair{',', "a point for the decimal mark: {}.{}"},
                                     std::pair{'-', "a range written with points: {}..{}"}}) {
    const std::size_t at = answer.find(mark);
    if (at == std::string_view::npos) continue;
    const std::string_view before = answer.substr(0, at), after = answer.substr(at + 1);
    if (answered_number(before) && answered_number(after))
      return "wants " + fmt::format(fmt::runtime(wanted), trimmed(before), trimmed(after));
  }
  const std::size_t digits = answer.find_first_not_of("0123456789.");
  const bool has_unit = digits != std::string_view::npos && digits > 0;
  return what_is_wanted(question) + (has_unit ? "; write it without a unit" : "");
}

/// Empty if the amount will do.
std::string amount_problem(const Question& question, std::string_view answer) {
  const auto amount = amount_of(answer);
  if (!amount) return notation_problem(question, answer);
  for (const double end : {amount->low(), amount->high()}) {
    if (!question.limits.allows(end)) return fmt::format("wants {}", question.limits.allowed_instead_of(end));
  }
  if (!question.limits.allows_range(amount->low(), amount->high()))
    return fmt::format("wants a range whose high end is at most {} times its low end",
                       question.limits.widest);
  if (question.form == Form::whole && (!amount->is_fixed() || amount->low() != std::floor(amount->low())))
    return what_is_wanted(question);
  return "";
}

}  // namespace

// A figure that is usual stands here; what follows from other answers (a kind's life) says `not_known`.
const std::vector<Question>& questions() {
  static const std::vector<Question> table = {
      {"kind", "What kind of device is it?", "", Form::choice, nothing_to_limit, "other",
       "'other': a device of any kind", true,
       "How long such a device lasts follows from it, unless the life of a new one is known."},
      {"class", "What has failed in it?", "", Form::choice, nothing_to_limit, "tactile-switch", "", true,
       "The class of wear part: how long one lasts follows from it."},
      {"alike", "How many of them are in it, as much used?", "", Form::whole, count_limits, "1", "", true,
       "All that are alike, the failed ones included. The others have worn as long and may follow."},
      {"failed", "How many of these have failed?", "", Form::whole, count_limits, "1", "", true,
       "At most as many as there are."},
      {"part", "What does one new part cost?", money_unit, Form::amount, limits::money, "1", "", true,
       "With tax, as the seller asks for a single piece."},
      {"shipping", "What does it cost to have it sent?", money_unit, Form::amount, limits::money, "5", "",
       true, "For one order, with fees; 0 if it is fetched on the way."},
      {"new", "What does a new device cost?", money_unit, Form::amount, limits::money, not_known,
       "no price, and the answer says what a repair may cost", true,
       "All in. Where none is sold any more, or the price is open, 'unknown' has its own answer."},
      {"life", "How many years does a new one last?", "years", Form::amount, limits::device_life, not_known,
       "what is usual for its kind", true,
       "On average, in your use. Yours is taken to have been as good when it was new."},
      {"age", "How old is the device?", "years", Form::amount, limits::years, not_known,
       "anything up to one and a half of such a device's lives", true,
       "A range will do: 4..8. Its age is what the failed part has endured."},
      {"use", "How often a day is the busiest one used?", "times", Form::amount, limits::use_per_day,
       not_known, "so often that one is worn out at about the device's age, give or take a factor of 4", true,
       "Presses, turns, matings: of one, on an average day of the year. Idle days count too."},
      {"hours", "How many hours a day is the device on?", "hours", Form::amount, limits::hours_per_day,
       not_known, "so long that one is worn out at about the device's age, give or take a factor of 4", true,
       "On an average day of the year."},
      {"minutes", "How many minutes of work is the repair?", "minutes", Form::amount, limits::minutes,
       not_known, "what the trade figures say of the steps", true,
       "All in: finding the fault, ordering, opening, changing what failed, testing, closing."},
      {"hour", "What is an hour of that work worth?", money_unit, Form::amount, limits::money, "12", "", true,
       "What you would pay, or be paid, for it; 0 if own time is free."},
      {"hazards", "What is dangerous in it?", "", Form::choices, nothing_to_limit, "none", "", true,
       "Some of these are not for one's own hands."},
      {"currency", "Which currency are all amounts in?", "", Form::choice, nothing_to_limit, home_currency,
       "", false, "Its ISO 4217 code."},
      {"attached", "How is the part attached?", "", Form::choice, nothing_to_limit, not_known,
       "as the trade figures take it to be", false,
       "It decides how many joints are worked on, and the minutes where they are not known."},
      {"skill", "Who does the work?", "", Form::choice, nothing_to_limit, not_known,
       "as the trade figures take it to be", false,
       "It decides the chances of damage, and the minutes where they are not known."},
      {"name", "What is the device called?", "", Form::name, nothing_to_limit, not_known, "its kind", false,
       "It stands at the head of the answer."}};
  return table;
}

const Question* find_question(std::string_view key) {
  for (const Question& question : questions()) {
    if (question.key == key) return &question;
  }
  return nullptr;
}

std::optional<Quantity> amount_of(std::string_view text) {
  std::vector<double> points;
  while (true) {
    std::size_t end = text.size();
    std::size_t next = std::string_view::npos;
    for (const std::string_view mark : {std::string_view(".."), std::string_view(" to ")}) {
      const std::size_t at = text.find(mark);
      if (at == std::string_view::npos || at >= end) continue;
      end = at;
      next = at + mark.size();
    }
    const auto point = answered_number(text.substr(0, end));
    constexpr std::size_t most_points = 3;
    if (!point || points.size() == most_points || (!points.empty() && *point < points.back()))
      return std::nullopt;
    points.push_back(*point);
    if (next == std::string_view::npos) break;
    text.remove_prefix(next);
  }
  if (points.size() == 1) return Quantity::exactly(points[0]);
  if (points.size() == 2) return Quantity::between(points[0], points[1]);
  return Quantity::three_point(points[0], points[1], points[2]);
}

std::string Answers::give(const Question& question, std::string_view answer) {
  answer = trimmed(answer);
  if (find_bad_byte(answer) || has_control_character(answer)) return "wants a text of one line in UTF-8";
  if (means_not_known(answer)) {
    if (*question.unknown == '\0') {
      return question.form == Form::choice || question.form == Form::choices ? "wants a name that is listed"
                                                                             : what_is_wanted(question);
    }
    given_[question.key] = not_known;
    return "";
  }
  switch (question.form) {
    case Form::name:
      if (answer.empty() || answer.size() > longest_name)
        return fmt::format("wants a name of at most {} bytes", longest_name);
      given_[question.key] = std::string(answer);
      return "";
    case Form::choice: {
      const auto name = name_meant(question, answer);
      if (!name) {
        return "wants a name that is listed; " + suggestion(answer, names(question), lists_them);
      }
      given_[question.key] = *name;
      return "";
    }
    case Form::choices: return take_choices(question, answer);
    case Form::whole:
    case Form::amount: {
      std::string problem = amount_problem(question, answer);
      if (problem.empty()) given_[question.key] = std::string(answer);
      return problem;
    }
  }
  return "";
}

/// Case, blanks and '_' for '-' do not matter.
std::optional<std::string> Answers::name_meant(const Question& question, std::string_view word) const {
  for (std::string& name : names(question)) {
    if (edit_distance(name, word) == 0) return std::move(name);
  }
  return std::nullopt;
}

std::string Answers::take_choices(const Question& question, std::string_view answer) {
  std::vector<std::string> chosen;
  while (!answer.empty() && answer != "none") {
    const std::size_t comma = std::min(answer.find(','), answer.size());
    const std::string_view word = trimmed(answer.substr(0, comma));
    answer = trimmed(answer.substr(std::min(comma + 1, answer.size())));
    const auto name = name_meant(question, word);
    if (!name) {
      return fmt::format("wants names that are listed; '{}' is none: {}", printable(word),
                         suggestion(word, names(question), lists_them));
    }
    if (std::ranges::find(chosen, *name) == chosen.end()) chosen.push_back(*name);
  }
  std::string list;
  for (const std::string& name : chosen) list += (list.empty() ? "" : ", ") + name;
  given_[question.key] = list.empty() ? "none" : list;
  return "";
}

std::string Answers::usual(const Question& question) const {
  if (question.unit == std::string_view(money_unit) && question.usual != std::string_view(not_known) &&
      text("currency") != home_currency)
    return "";
  // More than one that failed are at least so many that are alike.
  if (question.key == std::string_view("alike")) {
    const auto failed = given_.find("failed");
    if (failed != given_.end()) return failed->second;
  }
  return question.usual;
}

std::string Answers::text(const Question& question) const {
  const auto found = given_.find(question.key);
  return found != given_.end() ? found->second : usual(question);
}

std::string Answers::text(std::string_view key) const { return text(*find_question(key)); }

std::string Answers::unit(const Question& question) const {
  return question.unit == std::string_view(money_unit) ? text("currency") : question.unit;
}

bool Answers::applies(const Question& question) const {
  const std::string_view key = question.key;
  if (key != "use" && key != "hours") return true;
  const auto life = rates_->lives.find(text("class"));
  if (life == rates_->lives.end()) return false;
  return life->second.life.unit == (key == "use" ? LifeUnit::cycles : LifeUnit::hours);
}

std::vector<std::string> Answers::names(const Question& question) const {
  const std::string_view key = question.key;
  if (key == "kind") return names_of(rates_->device_kinds);
  if (key == "class") return names_of(rates_->lives);
  if (key == "hazards") return names_of(rates_->hazards);
  if (key == "currency") return names_of(rates_->currencies);
  if (key == "attached") return names_of(rates_->terminations);
  if (key == "skill") return names_of(rates_->skills);
  return {};
}

std::optional<Answers::Trouble> Answers::trouble() const {
  for (const Question& question : questions()) {
    if (applies(question) && text(question).empty())
      return Trouble{&question, fmt::format("must be said: its usual value is in {}", home_currency)};
  }
  const Question* failed = find_question("failed");
  if (answered_number(text(*failed)) > answered_number(text("alike")))
    return Trouble{failed, fmt::format("wants at most {}, as there are no more", text("alike"))};
  return std::nullopt;
}

}  // namespace mendworth::input
