#pragma once

#include <optional>
#include <string>
#include <vector>

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

/// Sets the pieces at hand of a case's candidates from a drawer file, if there is one; what is worth a note.
[[nodiscard]] std::vector<std::string> lay_out_drawer(const std::optional<std::string>& drawer_path, Case& c);

/// Throws UsageError if the drawer is what is written to, or if case and drawer both are standard input.
void check_drawer_use(const std::string& case_path, const std::optional<std::string>& drawer_path,
                      const std::optional<std::string>& out_path);

}  // namespace mendworth::cli
