#include <optional>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/shop_reader.hpp"

namespace mendworth::input {

namespace {

constexpr Limits share_of_labour{0, 10, "a share of labour, as a fraction: 50 % is 0.5", 1e-6};
constexpr Limits times{0.01, 100, "the price as a multiple of the cost: 40 % on top is 1.4"};

}  // namespace

void ShopReader::read_labour() {
  TableReader table = document_.section("labour");
  shop_.charge_rate = table.number("charge_rate", limits::money);
  shop_.cost_rate = table.quantity("cost_rate", limits::money);
  shop_.billing_increment_minutes =
      table.number("billing_increment_minutes", limits::minutes).value_or(shop_.billing_increment_minutes);
  shop_.minimum_charge = table.number("minimum_charge", limits::money).value_or(shop_.minimum_charge);
  table.finish();
}

void ShopReader::read_flat_rates() {
  UniqueNames names;
  for (TableReader& table : document_.sections("flat_rate")) {
    FlatRate rate;
    rate.name = table.required_text("name", "what the customer reads for this job",
                                    "for instance name = \"Two station buttons renewed\"");
    rate.part = table.required_text("part", "the part that it renews, by its name in the case",
                                    "for instance part = \"button\"");
    rate.positions = table.integer("positions", 1, most_positions_in_group).value_or(rate.positions);
    if (!table.has("price")) table.missing("price", "what the job costs", "for instance price = 45");
    rate.price = table.number("price", limits::positive_money).value_or(1.0);
    rate.parts_included = table.flag("parts_included").value_or(rate.parts_included);
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
  shop_.least_markup = table.number("least_markup", limits::money).value_or(shop_.least_markup);
  constexpr ShippingCharge charges[] = {ShippingCharge::line, ShippingCharge::spread, ShippingCharge::shop};
  shop_.shipping = charges[table.choice("shipping", {"line", "spread", "shop"}).value_or(0)];
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
  std::optional<double> last;
  for (TableReader& row : rows) {
    if (!row.has("cost_from")) {
      row.missing("cost_from", "the cost of a piece from which this band holds",
                  "cost_from = 0 in the first band");
    }
    const auto from = row.number("cost_from", limits::money);
    if (from && !last && *from > 0 && &row == &rows.front()) {
      row.fail("cost_from", fmt::format("the first band starts from {}, it must start from 0", *from),
               "add a band { cost_from = 0, times = ... }");
    } else if (from && last && *from <= *last) {
      row.fail("cost_from", fmt::format("the bands are out of order: {} comes after {}", *from, *last),
               "write them by rising cost, each once");
    }
    if (from) last = *from;
    if (!row.has("times"))
      row.missing("times", "the price as a multiple of the cost", "times = 1.4 puts 40 % on top");
    shop_.markup.push_back({from.value_or(0.0), row.number("times", times).value_or(1.0)});
    row.finish();
  }
}

void ShopReader::read_consumables() {
  TableReader table = document_.section("consumables");
  shop_.consumables_flat = table.number("flat", limits::money);
  shop_.consumables_share = table.number("share", limits::share_of_money);
  require_one_of(table, "flat", "share", "consumables are charged as a flat sum or as a share of labour");
  table.finish();
}

void ShopReader::read_fees() {
  TableReader table = document_.section("fees");
  shop_.rush_flat = table.number("rush", limits::money);
  shop_.rush_share = table.number("rush_share", share_of_labour);
  require_one_of(table, "rush", "rush_share", "a rush is charged as a sum or as a share of labour");
  shop_.collection_fee = table.number("collection", limits::money);
  table.finish();
}

}  // namespace mendworth::input
