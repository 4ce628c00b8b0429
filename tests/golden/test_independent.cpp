#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/weigh.hpp"
#include "support/near.hpp"

// Present costs against a second simulation that shares no code with this one: tests/golden/independent/NAME.toml beside
// NAME.expected. Derived: the header of each .expected says how its figures were computed.

namespace {

namespace fs = std::filesystem;
using mendworth::test::near_abs;

const fs::path folder = fs::path(MENDWORTH_SOURCE_DIR) / "tests" / "golden" / "independent";

/// One option with one quantity of pieces; the cash to pay now tells the quantities apart.
struct Expected {
  std::string option;
  double present_cost = 0;
  double standard_error = 0;
  double cash_now = 0;
};

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE_MESSAGE(file.good(), path.string());
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<Expected> expected_figures(const std::string& name) {
  std::vector<Expected> rows;
  std::istringstream lines(content(folder / (name + ".expected")));
  for (std::string line; std::getline(lines, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream cells(line);
    Expected row;
    const bool named = static_cast<bool>(std::getline(cells, row.option, '\t'));
    const bool read = static_cast<bool>(cells >> row.present_cost >> row.standard_error >> row.cash_now);
    REQUIRE_MESSAGE((named && read), line);
    rows.push_back(row);
  }
  return rows;
}

/// Combined standard errors between the two figures; the printed digits' rounding is added, for cases without chance.
double distance(const mendworth::OptionResult& option, const Expected& row) {
  return std::abs(option.present_cost - row.present_cost) /
         (std::hypot(option.present_cost_error, row.standard_error) + 1e-6);
}

void compare(const std::string& name) {
  CAPTURE(name);
  const std::vector<Expected> rows = expected_figures(name);
  const mendworth::RateBook& rates = mendworth::built_in_rates();
  mendworth::WeighSettings settings;
  settings.futures = 100'000;
  const mendworth::Weighing weighing = mendworth::weigh(
      mendworth::read_case(content(folder / (name + ".toml")), name + ".toml", rates), rates, settings);
  REQUIRE(weighing.options.size() >= 10);
  for (const mendworth::OptionResult& option : weighing.options) {
    CAPTURE(option.name);
    CAPTURE(option.cash_now);
    CAPTURE(option.present_cost);
    int candidates = 0;
    double nearest = 1e9;
    // Two quantities of a price ladder may cost the same: either will do.
    for (const Expected& row : rows) {
      if (row.option != option.name || !near_abs(row.cash_now, option.cash_now, 0.001)) continue;
      ++candidates;
      nearest = std::min(nearest, distance(option, row));
    }
    if (candidates == 0 && name == "misfit") {
      // The figures know no order of both candidates at once; where that is chosen, it costs no more than theirs.
      for (const Expected& row : rows) {
        if (row.option != option.name) continue;
        CHECK(option.present_cost <=
              row.present_cost + 4.0 * std::hypot(option.present_cost_error, row.standard_error));
      }
      continue;
    }
    CHECK_MESSAGE(candidates > 0, "no figures for this option with this order");
    CHECK(nearest <= 4.0);
  }
}

}  // namespace

TEST_CASE("independent simulation: nothing uncertain") { compare("certain"); }
TEST_CASE("independent simulation: two replacements and a device that ends") { compare("replacements"); }
TEST_CASE("independent simulation: one part wears, the rest ends") { compare("wear_and_rest"); }
TEST_CASE("independent simulation: mates judged by this device's own failure") { compare("mates_wear"); }
TEST_CASE("independent simulation: damage, wrong diagnosis, dead pieces") { compare("luck"); }
TEST_CASE("independent simulation: a first candidate that may not fit") { compare("misfit"); }
TEST_CASE("independent simulation: spares that other devices use") { compare("spares_used_elsewhere"); }
TEST_CASE("independent simulation: price breaks, shipping tiers, duty, exchange") {
  compare("tiers_and_duty");
}
