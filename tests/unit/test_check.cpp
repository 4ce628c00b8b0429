#include <functional>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "domain/inputs.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "support/case_builder.hpp"

// Expected values in this file are derived: each case is sound but for what the test breaks, and the message names it.

namespace {

using namespace mendworth;
using mendworth::test::exactly;
using mendworth::test::minimal_case;

std::string fault_of(const Case& c) {
  try {
    check(c);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "";
}

std::string fault(const std::function<void(Case&)>& spoil) {
  Case c = minimal_case();
  spoil(c);
  return fault_of(c);
}

bool reads(const std::string& text, const std::string& setting) {
  try {
    static_cast<void>(read_case(text, "case.toml", built_in_rates(), {setting}));
  } catch (const InputError&) {
    return false;
  }
  return true;
}

}  // namespace

TEST_CASE("check: a sound case passes, and so does what is read") {
  CHECK(fault_of(minimal_case()).empty());
  for (const bool every_key : {false, true})
    CHECK(fault_of(read_case(starter_case(every_key), "case.toml", built_in_rates())).empty());
}

TEST_CASE("check: the field that is wrong is named") {
  CHECK(fault([](Case& c) { c.positions[0].part = 1; }) == "position.1.part: found 1, allowed is 0 to 0");
  CHECK(fault([](Case& c) { c.positions[0].part = -1; }) == "position.1.part: found -1, allowed is 0 to 0");
  CHECK(fault([](Case& c) { c.positions[0].failed = 0; }) == "position.failed: no position has failed");
  CHECK(fault([](Case& c) { c.positions.clear(); }) == "position.failed: no position has failed");
  CHECK(fault([](Case& c) { c.positions[0].failed = 2; }) == "position.1.failed: found 2, allowed is 0 to 1");
  CHECK(fault([](Case& c) { c.positions[0].renewed = 1; }) ==
        "position.1.renewed: found 1, allowed is 0 to 0");
  CHECK(fault([](Case& c) { c.parts.clear(); }) == "part: there is none");
  CHECK(fault([](Case& c) { c.parts[0].candidates[0].offers[0].supplier = 1; }) ==
        "part.1.candidate.1.offer.1.supplier: found 1, allowed is 0 to 0");
  CHECK(fault([](Case& c) { c.parts[0].candidates[0].offers[0].prices.clear(); }) ==
        "part.1.candidate.1.offer.1.prices: there is none");
  CHECK(fault([](Case& c) { c.parts[0].candidates[0].offers[0].prices[0].from = 0; }) ==
        "part.1.candidate.1.offer.1.prices.1.from: found 0, allowed is 1 to 1000000");
  CHECK(fault([](Case& c) { c.parts[0].candidates[0].offers[0].least = 0; }) ==
        "part.1.candidate.1.offer.1.least: found 0, allowed is 1 to 1000000");
  CHECK(fault([](Case& c) { c.parts[0].candidates[0].offers.clear(); }) ==
        "part.1.candidate.1.offer: there is none");
  CHECK(fault([](Case& c) { c.suppliers[0].shipping.clear(); }) == "supplier.1.shipping: there is none");
  CHECK(fault([](Case& c) { c.suppliers[0].shipping[0].goods_from = 5; }) ==
        "supplier.1.shipping: the first tier does not start from 0");
  CHECK(fault([](Case& c) { c.device.use_per_day.reset(); }) ==
        "device.use_per_day: missing: a life is in cycles");
  CHECK(fault([](Case& c) { c.replacements.clear(); }) == "replacement: there is none");
  CHECK(fault([](Case& c) { c.device.currency.clear(); }) == "device.currency: there is none");
  CHECK(fault([](Case& c) { c.device.age_years = exactly(1e-100); }) ==
        "device.age_years: found 1e-100, allowed is 0.001 to 1000");
  CHECK(fault([](Case& c) { c.replacements[0].price = exactly(1e-9); }) ==
        "replacement.1.price: found 1e-09, allowed is 0 or at least 0.0001");
  CHECK(fault([](Case& c) { c.device.already_spent = std::numeric_limits<double>::quiet_NaN(); }) ==
        "device.already_spent: found nan, allowed is 0 to 1000000000");
  CHECK(fault([](Case& c) { c.device.use_per_day = Quantity::between(0.01, 1000); }) ==
        "device.use_per_day: the ends 0.01 and 1000 are too far apart");
  CHECK(fault([](Case& c) { c.parts[0].life.rated_life = exactly(0.01); }) ==
        "part.1.rated_life: a life of 0.01 cycles is used up in 5.48e-07 years, allowed is 0.001 or more "
        "(device.use_per_day and position.share say how fast)");
  CHECK(fault([](Case& c) {
          c.horizon.years.reset();
          c.horizon.discount_rate = exactly(-0.01);
        }) == "horizon.discount_rate: found -0.01: at a rate below 0 a need that goes on costs without end");
  CHECK(fault([](Case& c) { c.rest.remaining_years.reset(); }) ==
        "device.life_years: found 0, allowed is 0.02 to 1000000");
}

TEST_CASE("limits: the reader allows of each number what the table says") {
  const std::string text = starter_case(true);
  const Case c = read_case(text, "case.toml", built_in_rates());
  std::vector<std::string> keys;
  for_each_quantity(c, [&](const std::string& key, const Quantity&) { keys.push_back(key); });
  for (const std::string& key : keys) {
    CAPTURE(key);
    const Limits& allowed = input_of(key).limits;
    CHECK_FALSE(reads(text, key + "=" + std::to_string(allowed.high + std::max(1.0, allowed.high * 1e-3))));
    CHECK_FALSE(reads(text, key + "=" + std::to_string(allowed.low - std::max(1.0, allowed.low))));
    if (allowed.least > 0) CHECK_FALSE(reads(text, key + "=0.0000000001"));
  }
  CHECK_THROWS_AS(static_cast<void>(input_of("device.colour")), std::invalid_argument);
}
