#include "cli/case_input.hpp"

#include <fmt/format.h>

#include "cli/destination.hpp"
#include "cli/surroundings.hpp"
#include "mendworth/drawer.hpp"

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

Case case_from(const std::string& path, const RateBook& rates, const std::vector<std::string>& overrides) {
  require_key_value(overrides);
  return read_case(read_text_file(path), path, rates, overrides);
}

std::vector<std::string> lay_out_drawer(const std::optional<std::string>& drawer_path, Case& c) {
  if (!drawer_path) return {};
  const Drawer drawer = read_drawer(read_text_file(*drawer_path, largest_drawer), *drawer_path);
  for (Scenario& scenario : c.what_ifs) static_cast<void>(lay_out(drawer, scenario.changed));
  return lay_out(drawer, c);
}

void check_drawer_use(const std::string& case_path, const std::optional<std::string>& drawer_path,
                      const std::optional<std::string>& out_path) {
  if (!drawer_path) return;
  require_not_read(out_path, "--out", *drawer_path);
  if (case_path == "-" && *drawer_path == "-") {
    throw UsageError("the case and the drawer cannot both be read from standard input");
  }
}

}  // namespace mendworth::cli
