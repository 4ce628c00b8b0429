// The answer for a row is that of weighing its case alone with the same settings, the turning price included: there repair
// and replacement cost the same with plans and orders that are best at that price.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "mendworth/row_answer.hpp"
#include "mendworth/weigh.hpp"
#include "support/example_files.hpp"
#include "support/random_cases.hpp"

using namespace mendworth;

TEST_CASE("a row: verdict, money and turning price are those of its weighing") {
  WeighSettings settings{.seed = 5, .threads = 1};
  settings.precision_share = usual_row_precision;
  const RowAnswerer answer(built_in_rates(), settings);
  int prices = 0;
  const std::vector<const char*> names = {"stock-scanner.toml", "kitchen-scale.toml", "field-recorder.toml"};
  // The sanitizers get the first alone.
  const int tried = test::random_cases(static_cast<int>(names.size()));
  for (int at = 0; at < tried; ++at) {
    const char* name = names[static_cast<std::size_t>(at)];
    for (const char* age : {"2.5", "6"}) {
      CAPTURE(name);
      CAPTURE(age);
      const Case c = read_case(test::example_text(name), name, built_in_rates(),
                               {std::string("device.age_years=") + age});
      const RowAnswer row = answer(c);
      const Weighing w = weigh(c, built_in_rates(), settings);
      CHECK(row.verdict.saving == w.verdict.saving);
      CHECK(row.verdict.saving_error == w.verdict.saving_error);
      CHECK(row.money_now == w.options.front().cash_now);
      const auto price = std::find_if(w.break_evens.begin(), w.break_evens.end(), [](const BreakEven& b) {
        return b.key.starts_with("replacement.") && b.key.ends_with(".price");
      });
      REQUIRE(price != w.break_evens.end());
      REQUIRE(row.turning_price.has_value() == !price->values.empty());
      if (price->values.empty()) continue;
      ++prices;
      CHECK(std::find(price->values.begin(), price->values.end(), *row.turning_price) != price->values.end());
      // Of several the nearest.
      for (const double value : price->values)
        CHECK(std::abs(value - price->current) >= std::abs(*row.turning_price - price->current));
    }
  }
  CHECK(prices > tried);
}
