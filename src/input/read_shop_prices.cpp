#include <optional>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/shop_reader.hpp"

namespace mendworth::input {

void ShopReader::read_flat_rates() {
  UniqueNames names;
  for (TableReader& table : document_.sections("flat_rate")) {
    FlatRate rate;
    table.read_into(&rate);
    names.add(table, rate.name);
    for (const FlatRate& before : shop_.flat_rates) {
      if (rate.part.empty() || before.part != rate.part || before.positions != rate.positions) continue;
      table.fail("part", fmt::format("'{}' is for the same part and as many positions", before.name),
                 "a job has one flat rate: keep one of the two");
      break;
    }
    table.finish();
    shop_.flat_rates.push_back(std::move(rate));
  }
}

void ShopReader::read_parts() {
  TableReader table = document_.section("parts");
  read_markup(table);
  table.read_into(&shop_);
  constexpr ShippingCharge charges[] = {ShippingCharge::line, ShippingCharge::spread, ShippingCharge::shop};
  shop_.shipping = charges[table.choice("shipping").value_or(0)];
  table.finish();
}

void ShopReader::read_markup(TableReader& table) {
  const Node* node = table.find("markup");
  if (node != nullptr && node->is_number()) {
    table.fail("markup", fmt::format("found {}, a list of bands is wanted", node->described()),
               "one for every piece is markup = [{ cost_from = 0, times = 1.4 }]");
    return;
  }
  std::vector<TableReader> rows = table.sections("markup");
  const Ladder ladder{.first = "the first band",
                      .all = "the bands",
                      .of_what = "cost",
                      .add = "add a band { cost_from = 0, times = ... }"};
  std::optional<double> last;
  for (TableReader& row : rows) {
    const double from = read_step(row, "cost_from", ladder, &row == &rows.front(), last);
    row.require("times");
    shop_.markup.push_back({from, row.number("times").value_or(1.0)});
    row.finish();
  }
}

}  // namespace mendworth::input
