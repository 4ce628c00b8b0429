#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/shared_options.hpp"
#include "mendworth/beside.hpp"
#include "mendworth/read_case.hpp"

/// What commands that read a case have in common.
namespace mendworth::cli {

/// The built-in rates with the tables of a folder laid over them.
[[nodiscard]] RateBook rates_with(const std::optional<std::string>& directory);

/// Throws UsageError for an override of another form than "key=value".
void require_key_value(const std::vector<std::string>& overrides);

/// A case as a command reads it.
struct CaseRead {
  RateBook rates;
  Case c;
  std::vector<std::string> notes;  ///< what is worth a note in the drawer
};

/// The case of an input, with what is laid over it. Throws UsageError for an override of another form than "key=value",
/// or if case and drawer both are standard input.
[[nodiscard]] CaseRead case_from(const CaseInput& input);

/// What a command answers for each of a case's what-ifs; names begin with `head`.
template <class AnswerOf>
[[nodiscard]] auto answers_beside(const Case& c, AnswerOf answer_of, const std::string& head = "") {
  BesideList<decltype(answer_of(c))> beside;
  for (const Scenario& scenario : c.what_ifs)
    beside.push_back({head + scenario.name, scenario.changes, answer_of(scenario.changed)});
  return beside;
}

}  // namespace mendworth::cli
