// A replacement that is sold in another currency than the case's.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "mendworth/row_answer.hpp"
#include "mendworth/weigh.hpp"
#include "support/case_text.hpp"
#include "support/near.hpp"
#include "support/page_text.hpp"

namespace {

using namespace mendworth;
using mendworth::test::near_rel;
using mendworth::testing::contains;

Case with_new_one(const std::vector<std::string>& overrides) {
  return read_case(starter_case(false), "case.toml", built_in_rates(), overrides);
}

const std::vector<std::string> abroad{"replacement.price=100", "replacement.shipping=10",
                                      "replacement.tax=0.2", "replacement.currency=USD",
                                      "replacement.exchange_rate=0.9"};
const std::vector<std::string> at_home{"replacement.price=90", "replacement.shipping=9",
                                       "replacement.tax=0.2"};

}  // namespace

TEST_CASE("a price in another currency is that price at the exchange rate") {
  // Derived: 0.9 of the case's currency each, so (100 + 10) x 0.9 x 1.2 = (90 + 9) x 1.2.
  WeighSettings settings;
  settings.futures = 256;
  const RowAnswer dollars = RowAnswerer(built_in_rates(), settings)(with_new_one(abroad));
  const RowAnswer euros = RowAnswerer(built_in_rates(), settings)(with_new_one(at_home));
  REQUIRE(dollars.verdict.saving);
  CHECK(near_rel(*dollars.verdict.saving, *euros.verdict.saving, 1e-12));
  REQUIRE(dollars.turning_price);
  // A zero is closed in on until it is within a fiftieth of its error, from ends that are round in each currency.
  CHECK(near_rel(*dollars.turning_price * 0.9, *euros.turning_price, 2e-3));
  CHECK(dollars.currency == "EUR");
}

TEST_CASE(
    "an exchange rate that may turn the answer is among what it depends on, the price in its own currency") {
  std::vector<std::string> overrides = abroad;
  overrides.back() = "replacement.exchange_rate={ low = 0.8, high = 1.0 }";
  WeighSettings settings;
  settings.futures = 256;
  const Weighing w = weigh(with_new_one(overrides), built_in_rates(), settings);
  bool rate = false, price = false;
  for (const SensitivityRow& row : w.sensitivity) {
    rate = rate || (row.key == "replacement.1.exchange_rate" && row.swing > 0 &&
                    row.label == "exchange rate: the same, new");
    price = price || row.label == "price of the same, new (USD)";
  }
  CHECK(rate);
  CHECK(price);
}

TEST_CASE("a currency wants its rate, a rate its currency, and neither goes without a price") {
  const auto problems = [](const std::string& lines) {
    return test::messages(test::replaced(starter_case(false), "price = 160\n", lines));
  };
  CHECK(problems("price = 160\n") == "");
  CHECK(contains(problems("price = 160\ncurrency = \"USD\"\n"), "replacement.1.exchange_rate: missing"));
  CHECK(contains(problems("price = 160\nexchange_rate = 0.9\n"), "the currency is the case's, EUR"));
  CHECK(contains(problems("price = 160\ncurrency = \"dollars\"\nexchange_rate = 0.9\n"),
                 "replacement.1.currency"));
  CHECK(contains(problems("price = \"unknown\"\ncurrency = \"USD\"\nexchange_rate = 0.9\n"),
                 "replacement.1.currency: there is no price in it"));
}
