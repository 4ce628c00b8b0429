#include "render/again_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>
#include <map>
#include <tuple>

#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr double endless = std::numeric_limits<double>::infinity();
constexpr double shortest_span = 1.0 / 24;  // years; rounds to no month at all
constexpr double alike = 1.2;               // times that differ by no more than this factor
constexpr std::size_t most_clauses = 4;

struct Span {
  double from = 0, to = endless;
};
/// When to repair again: rising and apart; none: never.
using When = std::vector<Span>;

/// What tells kinds of failure apart.
enum Trait : std::size_t { spare, repairs, part };
using Traits = std::array<bool, 3>;
// Those that need fewer words come first.
constexpr std::array<Traits, 8> ways = {{{false, false, false},
                                         {true, false, false},
                                         {false, true, false},
                                         {false, false, true},
                                         {true, true, false},
                                         {true, false, true},
                                         {false, true, true},
                                         {true, true, true}}};

/// A kind of failure, or several that are alike.
struct Clause {
  std::vector<std::string> parts;
  bool spare_at_hand = false;
  int first_repair = 0, last_repair = 0;
  std::vector<When> answers;
};

bool times_alike(double a, double b) {
  return a == b || (std::max(a, b) < endless && std::max(a, b) <= alike * std::min(a, b));
}

/// Whether all answers say the same but for a little time.
bool agree(const std::vector<When>& answers) {
  for (std::size_t span = 0; span < answers.front().size(); ++span) {
    for (double Span::*bound : {&Span::from, &Span::to}) {
      double least = endless;
      double most = 0;
      for (const When& answer : answers) {
        if (answer.size() != answers.front().size()) return false;
        least = std::min(least, answer[span].*bound);
        most = std::max(most, answer[span].*bound);
      }
      if (!times_alike(least, most)) return false;
    }
  }
  return std::ranges::all_of(answers,
                             [&](const When& answer) { return answer.size() == answers.front().size(); });
}

When mean_of(const std::vector<When>& answers) {
  When mean = answers.front();
  for (std::size_t span = 0; span < mean.size(); ++span) {
    for (double Span::*bound : {&Span::from, &Span::to}) {
      double sum = 0;
      for (const When& answer : answers) sum += answer[span].*bound;
      mean[span].*bound = sum / static_cast<double>(answers.size());
    }
  }
  return mean;
}

/// One clause for each kind of failure in the rules, in the order of a page.
std::vector<Clause> kinds_of(const std::vector<AgainRule>& rules) {
  std::map<std::tuple<std::string, bool, int>, When> kinds;
  for (const AgainRule& rule : rules) {
    When& when = kinds[{rule.part, !rule.spare_at_hand, rule.repairs_before}];
    const double to = rule.to_years.value_or(endless);
    if (!rule.from_years || to < shortest_span || to <= *rule.from_years) continue;
    when.push_back({*rule.from_years < shortest_span ? 0 : *rule.from_years, to});
  }
  std::vector<Clause> clauses;
  for (auto& [kind, when] : kinds) {
    std::ranges::sort(when, {}, &Span::from);
    clauses.push_back({.parts = {std::get<0>(kind)},
                       .spare_at_hand = !std::get<1>(kind),
                       .first_repair = std::get<2>(kind),
                       .last_repair = std::get<2>(kind),
                       .answers = {when}});
  }
  return clauses;
}

bool same_kind(const Clause& a, const Clause& b, const Traits& told) {
  return (!told[spare] || a.spare_at_hand == b.spare_at_hand) &&
         (!told[repairs] || (a.first_repair == b.first_repair && a.last_repair == b.last_repair)) &&
         (!told[part] || a.parts == b.parts);
}

/// Puts together what these traits do not tell apart.
std::vector<Clause> told_apart(const std::vector<Clause>& kinds, const Traits& told) {
  std::vector<Clause> clauses;
  for (const Clause& kind : kinds) {
    const auto same =
        std::ranges::find_if(clauses, [&](const Clause& clause) { return same_kind(clause, kind, told); });
    if (same == clauses.end()) {
      clauses.push_back(kind);
    } else {
      same->answers.insert(same->answers.end(), kind.answers.begin(), kind.answers.end());
    }
  }
  // Kinds come part by part; those that only the count of repairs tells apart, in its order.
  if (told[repairs] && !told[spare] && !told[part])
    std::ranges::stable_sort(clauses, {}, &Clause::first_repair);
  return clauses;
}

/// Joins clauses that agree where `joins` says that one can be named with the other; `join` makes the names.
template <class Joins, class Join>
void join_clauses(std::vector<Clause>& clauses, Joins joins, Join join) {
  for (std::size_t i = 0; i < clauses.size(); ++i) {
    for (std::size_t j = i + 1; j < clauses.size();) {
      std::vector<When> answers = clauses[i].answers;
      answers.insert(answers.end(), clauses[j].answers.begin(), clauses[j].answers.end());
      if (!joins(clauses[i], clauses[j]) || !agree(answers)) {
        ++j;
        continue;
      }
      join(clauses[i], clauses[j]);
      clauses[i].answers = std::move(answers);
      clauses.erase(clauses.begin() + static_cast<std::ptrdiff_t>(j));
    }
  }
}

void join_alike(std::vector<Clause>& clauses, const Traits& told) {
  if (told[repairs]) {
    const Traits others = {told[spare], false, told[part]};
    join_clauses(
        clauses,
        [&](const Clause& a, const Clause& b) {
          return same_kind(a, b, others) && b.first_repair == a.last_repair + 1;
        },
        [](Clause& a, const Clause& b) { a.last_repair = b.last_repair; });
  }
  if (told[part]) {
    const Traits others = {told[spare], told[repairs], false};
    join_clauses(
        clauses, [&](const Clause& a, const Clause& b) { return same_kind(a, b, others); },
        [](Clause& a, const Clause& b) { a.parts.insert(a.parts.end(), b.parts.begin(), b.parts.end()); });
  }
}

std::string when_words(const When& when) {
  if (when.empty()) return "not at all";
  std::string words;
  for (const Span& span : when) {
    if (!words.empty()) words += " or ";
    if (span.from == 0) {
      words += span.to == endless ? "always" : "within " + rough_years_text(span.to);
    } else if (span.to == endless) {
      words += fmt::format("from {} on", rough_years_text(span.from));
    } else {
      words += fmt::format("between {} and {}", rough_years_text(span.from), rough_years_text(span.to));
    }
  }
  return words;
}

std::string one_answer(const When& when) {
  if (when.empty()) return "replace it if it fails again";
  const Span& first = when.front();
  if (when.size() == 1 && first.from == 0 && first.to == endless) return "repair again whenever it fails";
  if (when.size() == 1 && first.from == 0)
    return fmt::format("repair again if it fails within {}, replace after that", rough_years_text(first.to));
  if (when.size() == 1 && first.to == endless)
    return fmt::format("replace if it fails within {}, repair again after that",
                       rough_years_text(first.from));
  return fmt::format("repair again if it fails {}, else replace", when_words(when));
}

std::string ordinal(int number) {
  constexpr std::array<const char*, 5> words = {"first", "second", "third", "fourth", "fifth"};
  const auto i = static_cast<std::size_t>(number - 1);
  return i < words.size() ? words[i] : fmt::format("{}th", number);
}

std::string failures_words(const Clause& clause, int last_of_all) {
  const std::string first = ordinal(clause.first_repair + 1);
  if (clause.last_repair == last_of_all && clause.first_repair > 0)
    return fmt::format("from the {} failure on", first);
  if (clause.first_repair == clause.last_repair) return fmt::format("at the {} failure", first);
  return fmt::format("from the {} to the {} failure", first, ordinal(clause.last_repair + 1));
}

std::string label_of(const Clause& clause, const Traits& told, int last_repair) {
  std::string label;
  const auto add = [&](const std::string& words) { label += (label.empty() ? "" : " ") + words; };
  if (told[part]) add(fmt::format("for the {}", fmt::join(clause.parts, " and the ")));
  if (told[repairs]) add(failures_words(clause, last_repair));
  if (told[spare]) add(clause.spare_at_hand ? "with a spare at hand" : "without one");
  return label;
}

std::string what_tells(const Traits& told) {
  std::vector<std::string> what;
  if (told[part]) what.emplace_back("what fails");
  if (told[repairs]) what.emplace_back("how often it has been repaired");
  if (told[spare]) what.emplace_back("whether a spare is at hand");
  return fmt::format("{}", fmt::join(what, " and "));
}

/// Where too many kinds differ to be told one by one.
std::string in_short(const std::vector<Clause>& clauses, const Traits& told) {
  double least = endless;
  double most = 0;
  for (const Clause& clause : clauses) {
    for (const When& when : clause.answers) {
      if (when.size() > 1 || (!when.empty() && when.front().from > 0))
        return fmt::format("whether to repair again depends on {} and on when it fails", what_tells(told));
      least = std::min(least, when.empty() ? 0 : when.front().to);
      most = std::max(most, when.empty() ? 0 : when.front().to);
    }
  }
  const std::string end = most < endless ? fmt::format("; replace after {}", rough_years_text(most)) : "";
  if (least == 0) return fmt::format("whether to repair again depends on {}{}", what_tells(told), end);
  return fmt::format("repair again if it fails within {}; after that it depends on {}{}",
                     rough_years_text(least), what_tells(told), end);
}

}  // namespace

std::string again_words(const std::vector<AgainRule>& rules) {
  if (rules.empty()) return {};
  const std::vector<Clause> kinds = kinds_of(rules);
  int last_repair = 0;
  for (const Clause& kind : kinds) last_repair = std::max(last_repair, kind.last_repair);
  for (const Traits& told : ways) {
    std::vector<Clause> clauses = told_apart(kinds, told);
    if (!std::ranges::all_of(clauses, [](const Clause& clause) { return agree(clause.answers); })) continue;
    if (clauses.size() == 1) return one_answer(mean_of(clauses.front().answers));
    join_alike(clauses, told);
    if (clauses.size() > most_clauses) return in_short(clauses, told);
    std::string words;
    for (const Clause& clause : clauses) {
      words += fmt::format("{}{} {}", words.empty() ? "repair again " : ", ",
                           label_of(clause, told, last_repair), when_words(mean_of(clause.answers)));
    }
    return words + "; else replace";
  }
  return {};  // the last way tells every kind apart
}

}  // namespace mendworth
