#include <doctest/doctest.h>
#include <string>

#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/shop.hpp"

using namespace mendworth;

// The outputs kept beside this file begin with the starter; it must be the one that `new` writes.
TEST_CASE("the starter whose answers are kept is the one that is written") {
  const std::string path = std::string(MENDWORTH_SOURCE_DIR) + "/tests/golden/starter.toml";
  CHECK(read_text_file(path) == starter_case(false));
}

// They are read first of all: they should show a job that a shop would take and an owner would give.
TEST_CASE("the job of the starters pays for the shop and for the owner") {
  const RateBook& rates = built_in_rates();
  QuoteSettings settings;
  settings.futures = 2048;
  settings.date = {2026, 3, 1};
  const Shop shop_file = read_shop(starter_shop(), "shop.toml", rates);
  for (const bool every_key : {false, true}) {
    CAPTURE(every_key);
    const Case c = read_case(starter_case(every_key), "case.toml", rates_for(shop_file, rates));
    const QuoteResult result = quote(c, shop_file, rates, settings);
    REQUIRE(result.quote.has_value());
    CHECK(result.quote->remarks.empty());
    const ShopPage& shop = result.quote->shop.value();
    for (const ShopChoice& choice : shop.choices) CHECK(choice.margin > 2 * choice.margin_error);
    const ShopChoice& proposed = shop.choices.at(static_cast<std::size_t>(shop.proposed));
    CHECK(proposed.owner_saving.value_or(0) > 0);
  }
}
