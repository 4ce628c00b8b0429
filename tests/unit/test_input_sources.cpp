#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include "domain/inputs.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"
#include "mendworth/weigh.hpp"
#include "support/example_files.hpp"

// What an answer says of the numbers it was worked out from: only those that bear on it, each with where it is from.
using namespace mendworth;

namespace {

std::vector<std::string> idle_keys(const std::string& text) {
  const Case c = read_case(text, "f", built_in_rates());
  std::vector<std::string> keys;
  for_each_quantity(c, [&](const std::string& key, const Quantity& quantity) {
    if (is_idle(c, quantity)) keys.push_back(key);
  });
  return keys;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  REQUIRE(text.find(from) != std::string::npos);
  return text.replace(text.find(from), from.size(), to);
}

}  // namespace

TEST_CASE("numbers without a bearing: no guarantee, no spill, none renewed, the case's own currency") {
  const std::vector<std::string> all{"device.guarantee_chance",      "device.guarantee_days",
                                     "fault.common_cause_chance",    "fault.common_cause_years",
                                     "position.1.renewed_years_ago", "supplier.1.exchange_rate",
                                     "supplier.1.exchange_fee"};
  const std::string text = starter_case(false);
  CHECK(idle_keys(text) == all);
  const std::string spilt = replaced(text, "[labour]", "[fault]\ncause = \"spill\"\n[labour]");
  CHECK(idle_keys(spilt).size() == all.size() - 2);
  const std::string renewed = replaced(text, "failed = 1", "failed = 1\nrenewed = 1\nrenewed_years_ago = 2");
  CHECK(idle_keys(renewed).size() == all.size() - 1);
  const std::string abroad =
      replaced(text, "shipping = 4.90", "shipping = 4.90\ncurrency = \"USD\"\nexchange_rate = 0.9");
  CHECK(idle_keys(abroad).size() == all.size() - 2);
  const std::string guaranteed =
      replaced(text, "age_years = 6", "age_years = 6\nguarantee_until = 2030-01-01");
  CHECK(idle_keys(guaranteed).size() == all.size() - 2);
}

TEST_CASE(
    "the inputs of an answer: a life that is the part's is from where the part's is, what is idle is not "
    "listed") {
  WeighSettings settings;
  settings.futures = 128;
  const Weighing w = weigh(read_case(starter_case(false), "f", built_in_rates()), built_in_rates(), settings);
  const auto row_of = [&](const std::string& key) {
    return std::find_if(w.inputs.begin(), w.inputs.end(), [&](const auto& row) { return row.key == key; });
  };
  for (const char* idle : {"device.guarantee_chance", "fault.common_cause_years", "supplier.1.exchange_rate"})
    CHECK(row_of(idle) == w.inputs.end());
  for (const char* of_life : {"rated_life", "shape"}) {
    const auto part = row_of(std::string("part.1.") + of_life);
    const auto candidate = row_of(std::string("part.1.candidate.1.") + of_life);
    REQUIRE(part != w.inputs.end());
    REQUIRE(candidate != w.inputs.end());
    CHECK(part->source != "stated");
    CHECK(candidate->source == part->source);
  }
}

TEST_CASE("what moves a job's margin is no exchange rate of who sells in the case's currency") {
  QuoteSettings settings;
  settings.futures = 128;
  const Case c = read_case(test::example_text("field-recorder.toml"), "f", built_in_rates());
  const Shop shop = read_shop(test::example_text("shop.toml"), "s", built_in_rates());
  const QuoteResult made = quote(c, shop, built_in_rates(), settings);
  REQUIRE(made.quote);
  REQUIRE(made.quote->shop);
  std::size_t seen = 0;
  for (const ShopChoice& choice : made.quote->shop->choices) {
    for (const MarginRow& row : choice.moves) {
      ++seen;
      CHECK(row.key.find("exchange_rate") == std::string::npos);
    }
  }
  CHECK(seen > 5);
}
