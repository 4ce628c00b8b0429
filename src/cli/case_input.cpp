#include "cli/case_input.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

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

std::vector<QuotedLadder> quotations_from(const QuotationInput& input) {
  std::vector<QuotedLadder> all;
  for (const std::string& path : input.paths) {
    auto ladders = read_quotation(read_text_file(path), path, input.options);
    all.insert(all.end(), std::make_move_iterator(ladders.begin()), std::make_move_iterator(ladders.end()));
  }
  return all;
}

CaseFiles files_of(const CaseInput& input) {
  const auto& drawer = input.drawer_path;
  if (input.case_path == "-" && drawer == "-")
    throw UsageError("the case and the drawer cannot both be read from standard input");
  CaseFiles files{rates_with(input.rates_directory), read_text_file(input.case_path), std::nullopt,
                  quotations_from(input.joined)};
  if (drawer) files.drawer = read_drawer(read_text_file(*drawer, largest_drawer), *drawer);
  return files;
}

CaseRead case_from(const CaseInput& input, const CaseFiles& files) {
  require_key_value(input.overrides);
  CaseRead read{files.rates, {}, {}};
  read.c = read_case(files.text, input.case_path, read.rates, input.overrides);
  add_offers(read.c, files.quotations);
  for (Scenario& scenario : read.c.what_ifs) add_offers(scenario.changed, files.quotations);
  if (files.drawer) {
    read.notes = lay_out(*files.drawer, read.c);
    for (Scenario& scenario : read.c.what_ifs) static_cast<void>(lay_out(*files.drawer, scenario.changed));
  }
  return read;
}

std::vector<CaseRead> cases_from(const CaseInput& input, const std::vector<std::string>& beside) {
  if (!beside.empty() && (input.case_path == "-" || std::ranges::find(beside, "-") != beside.end()))
    throw UsageError("with several cases nothing is read from standard input");
  std::vector<CaseRead> read{case_from(input)};
  for (const std::string& path : beside) {
    CaseInput other = input;
    other.case_path = path;
    read.push_back(case_from(other));
    const std::string& wanted = read.front().c.device.currency;
    if (read.back().c.device.currency != wanted) {
      throw UsageError(fmt::format("{} is in {}, {} in {}: side by side they need one currency",
                                   input.case_path, wanted, path, read.back().c.device.currency));
    }
  }
  return read;
}

}  // namespace mendworth::cli
