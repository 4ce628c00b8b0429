#include "cli/case_input.hpp"

#include <fmt/format.h>

#include "cli/surroundings.hpp"

namespace mendworth::cli {

void require_key_value(const std::vector<std::string>& overrides) {
  for (const std::string& entry : overrides) {
    const std::size_t equals = entry.find('=');
    if (equals == std::string::npos || equals == 0) {
      throw UsageError(
          fmt::format("--set wants key=value, for instance --set labour.rate_per_hour=20, not '{}'", entry));
    }
  }
}

RateBook rates_with(const std::optional<std::string>& directory) {
  RateBook rates = built_in_rates();
  if (directory) overlay_rates_directory(rates, *directory);
  return rates;
}

CaseFiles files_of(const CaseInput& input) {
  const auto& drawer = input.drawer_path;
  if (input.case_path == "-" && drawer == "-")
    throw UsageError("the case and the drawer cannot both be read from standard input");
  CaseFiles files{rates_with(input.rates_directory), read_text_file(input.case_path), std::nullopt};
  if (drawer) files.drawer = read_drawer(read_text_file(*drawer, largest_drawer), *drawer);
  return files;
}

CaseRead case_from(const CaseInput& input, const CaseFiles& files) {
  require_key_value(input.overrides);
  CaseRead read{files.rates, {}, {}};
  read.c = read_case(files.text, input.case_path, read.rates, input.overrides);
  if (files.drawer) {
    read.notes = lay_out(*files.drawer, read.c);
    for (Scenario& scenario : read.c.what_ifs) static_cast<void>(lay_out(*files.drawer, scenario.changed));
  }
  return read;
}

}  // namespace mendworth::cli
