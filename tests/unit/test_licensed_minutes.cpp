// What it takes of the owner's time to have a device repaired by licensed people.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "mendworth/read_case.hpp"
#include "mendworth/weigh.hpp"
#include "support/example_files.hpp"
#include "support/near.hpp"

namespace {

using namespace mendworth;
using mendworth::test::near_rel;

const OptionResult& licensed(const Weighing& w) {
  return *std::find_if(w.options.begin(), w.options.end(),
                       [](const OptionResult& o) { return o.kind == OptionKind::licensed_repair; });
}

Weighing weighed(std::vector<std::string> overrides) {
  overrides.emplace_back("labour.rate_per_hour=20");
  WeighSettings settings;
  settings.futures = 256;
  return weigh(read_case(test::example_text("wall-dimmer.toml"), "dimmer.toml", built_in_rates(), overrides),
               built_in_rates(), settings);
}

}  // namespace

TEST_CASE("own time for a licensed repair is paid at the labour rate, at every visit") {
  // Derived: 90 minutes at 20 an hour are 30, so they come to a price that is higher by 30.
  const Weighing w = weighed({"licensed_repair.price=70", "licensed_repair.minutes=90"});
  const Weighing dearer = weighed({"licensed_repair.price=100"});
  CHECK(near_rel(licensed(w).present_cost, licensed(dearer).present_cost, 1e-9));
  CHECK(near_rel(*w.verdict.saving, *dearer.verdict.saving, 1e-9));
  CHECK(near_rel(licensed(w).cash_now, 70, 1e-12));
  CHECK(near_rel(licensed(w).minutes_now, 90, 1e-12));
  CHECK(near_rel(licensed(w).cost_now, 100, 1e-12));
  CHECK(licensed(w).parts.labour > 0);
  CHECK(licensed(dearer).parts.labour == 0);
}

TEST_CASE("own time that is not known stands among what the answer depends on") {
  const Weighing w = weighed({"licensed_repair.minutes={ low = 30, high = 300 }"});
  CHECK(std::any_of(w.sensitivity.begin(), w.sensitivity.end(), [](const SensitivityRow& row) {
    return row.key == "licensed_repair.minutes" &&
           row.label == "own time for the licensed repair (minutes)" && row.swing > 0;
  }));
}
