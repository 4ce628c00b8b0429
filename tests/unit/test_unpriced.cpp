#include <doctest/doctest.h>

#include <algorithm>

#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_builder.hpp"
#include "support/near.hpp"

using namespace mendworth;
using namespace mendworth::test;

// Derived: what a device without a price would cost, tax included, is left out of every heading, so nothing stands under
// the purchase of one that is sent for nothing.
TEST_CASE("where no replacement has a price, its purchase costs what is beside the price") {
  Case c = minimal_case();
  c.replacements[0].price.reset();
  c.replacements[0].tax = exactly(0.19);
  const Weighing w = weigh(c, built_in_rates(), {.futures = 400, .what_ifs = false});
  const auto bought = std::find_if(w.options.begin(), w.options.end(), [](const OptionResult& option) {
    return option.kind == OptionKind::replacement;
  });
  REQUIRE(bought != w.options.end());
  CHECK(near_abs(bought->parts.purchase, 0.0, 1e-9));
  CHECK(near_abs(bought->parts.next_device, 0.0, 1e-9));
}
