#pragma once

#include <optional>
#include <string>
#include <vector>

#include "mendworth/beside.hpp"
#include "mendworth/read_case.hpp"

/// What commands that read a case have in common.
namespace mendworth::cli {

/// The built-in rates with the tables of a folder laid over them.
[[nodiscard]] RateBook rates_with(const std::optional<std::string>& directory);

/// Throws UsageError for an override of another form than "key=value".
void require_key_value(const std::vector<std::string>& overrides);

/// The case of a file ("-": standard input) under overrides "key=value". Throws UsageError for one of another form.
[[nodiscard]] Case case_from(const std::string& path, const RateBook& rates,
                             const std::vector<std::string>& overrides);

/// Sets the pieces at hand of a case's candidates, and of its what-ifs', from a drawer file, if there is one; what is worth a note.
[[nodiscard]] std::vector<std::string> lay_out_drawer(const std::optional<std::string>& drawer_path, Case& c);

/// What a command answers for each of a case's what-ifs, which are taken out of the case.
template <class AnswerOf>
[[nodiscard]] auto answers_beside(Case& c, AnswerOf answer_of, const std::string& head = "") {
  BesideList<decltype(answer_of(c))> beside;
  for (Scenario& scenario : c.what_ifs)
    beside.push_back({head + scenario.name, std::move(scenario.changes), answer_of(scenario.changed)});
  c.what_ifs.clear();
  return beside;
}

/// Throws UsageError if the drawer is what is written to, or if case and drawer both are standard input.
void check_drawer_use(const std::string& case_path, const std::optional<std::string>& drawer_path,
                      const std::optional<std::string>& out_path);

}  // namespace mendworth::cli
