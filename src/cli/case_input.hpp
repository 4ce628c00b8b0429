#pragma once

#include <iterator>
#include <optional>
#include <string>
#include <vector>

#include "cli/shared_options.hpp"
#include "mendworth/beside.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/read_case.hpp"

/// What commands that read a case have in common.
namespace mendworth::cli {

/// The built-in rates with the tables of a folder laid over them.
[[nodiscard]] RateBook rates_with(const std::optional<std::string>& directory);

/// The ladders of all quotations, in the order of the files.
[[nodiscard]] std::vector<QuotedLadder> quotations_from(const QuotationInput& input);

/// Throws UsageError for an override of another form than "key=value".
void require_key_value(const std::vector<std::string>& overrides);

/// A case as a command reads it.
struct CaseRead {
  RateBook rates;
  Case c;
  std::vector<std::string> notes;  ///< what is worth a note in the drawer
};

/// The files of an input, read once for any number of cases.
struct CaseFiles {
  RateBook rates;
  std::string text;
  std::optional<Drawer> drawer;
  std::vector<QuotedLadder> quotations;  ///< that join the case's offers
};
/// Throws UsageError if case and drawer both are standard input.
[[nodiscard]] CaseFiles files_of(const CaseInput& input);

/// The case of an input, with what is laid over it. Throws UsageError for an override of another form than "key=value".
[[nodiscard]] CaseRead case_from(const CaseInput& input, const CaseFiles& files);
[[nodiscard]] inline CaseRead case_from(const CaseInput& input) { return case_from(input, files_of(input)); }

/// The case of an input and, in their order, those of the files that stand beside it, read in the same way. Throws UsageError
/// if one of several is standard input, or where their currencies differ.
[[nodiscard]] std::vector<CaseRead> cases_from(const CaseInput& input,
                                               const std::vector<std::string>& beside);

/// What a command answers for each of a case's what-ifs; names begin with `head`.
template <class AnswerOf>
[[nodiscard]] auto answers_beside(const Case& c, AnswerOf answer_of, const std::string& head = "") {
  BesideList<decltype(answer_of(c))> beside;
  for (const Scenario& scenario : c.what_ifs)
    beside.push_back({head + scenario.name, scenario.changes, answer_of(scenario.changed)});
  return beside;
}

/// What a command answers for several cases and their what-ifs: `answer_of(source, case)`.
template <class AnswerOf>
[[nodiscard]] auto compared_answers(const std::vector<CaseRead>& read, AnswerOf answer_of) {
  const CaseRead& first = read.front();
  Compared<decltype(answer_of(first, first.c))> all{answer_of(first, first.c)};
  for (const CaseRead& source : read) {
    const std::string& name = source.c.source_name;
    if (&source != &first) all.beside.push_back({name, {}, answer_of(source, source.c)});
    auto its_own = answers_beside(
        source.c, [&](const Case& c) { return answer_of(source, c); }, &source == &first ? "" : name + ": ");
    std::move(its_own.begin(), its_own.end(), std::back_inserter(all.beside));
  }
  return all;
}

}  // namespace mendworth::cli
