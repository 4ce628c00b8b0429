#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"

namespace mendworth::input {

void CaseReader::read_consumables() {
  UniqueNames names;
  for (TableReader& table : document_.sections("consumable")) {
    Consumable consumable;
    consumable.name = table.required_text("name", "what is used up", "for instance name = \"adhesive feet\"");
    consumable.price = table.required_quantity("price", limits::money, "what it costs", "price = 0.50");
    consumable.chance = table.quantity("chance", limits::chance).value_or(Quantity::exactly(1.0));
    names.add(table, consumable.name);
    table.finish();
    case_.consumables.push_back(std::move(consumable));
  }
}

void CaseReader::read_replacements() {
  std::vector<TableReader> tables = document_.sections("replacement");
  if (tables.empty() && !case_.device.must_keep) {
    document_.missing(
        "replacement", "what a replacement for the device costs and how long it lasts",
        "add a [[replacement]] with price and life_years; price = \"unknown\" if none is sold any more; "
        "or must_keep = true under [device]");
  }
  UniqueNames names;
  for (TableReader& table : tables) {
    read_replacement(table);
    names.add(table, case_.replacements.back().name);
  }
}

void CaseReader::read_replacement(TableReader& table) {
  Replacement out;
  out.name =
      table.required_text("name", "the name of the replacement", "for instance name = \"the same, new\"");
  const Node* price = table.find("price");
  if (price == nullptr) {
    table.missing("price", "what the replacement costs; only you know",
                  "write price = 80, or price = \"unknown\" if none is sold any more");
  } else if (price->is_text() && price->text != "unknown") {
    table.fail("price",
               fmt::format("found {}, a number, a range or \"unknown\" is wanted", price->described()),
               quoted_number_remedy(price->text));
  } else if (!price->is_text()) {
    out.price = table.quantity("price", limits::money);
  }
  out.tax = table.quantity("tax", limits::share_of_money).value_or(Quantity{});
  out.shipping = table.quantity("shipping", limits::money).value_or(Quantity{});
  out.life_years = table.required_quantity(
      "life_years", limits::years, "how many years the replacement is expected to last; only you can say",
      "write life_years = 5, or a range: { low = 3, high = 8 }");
  out.life_shape = quantity_or_default(table, "life_shape", limits::shape, "replacement.life_shape", "");
  out.setup_minutes =
      quantity_or_default(table, "setup_minutes", limits::minutes, "replacement.setup_minutes", "min");
  out.benefit_per_year = table.quantity("benefit_per_year", limits::money).value_or(Quantity{});
  out.resale = table.quantity("resale", limits::money).value_or(Quantity{});
  out.delivery_days =
      quantity_or_default(table, "delivery_days", limits::days, "replacement.delivery_days", "days");
  table.finish();
  case_.replacements.push_back(std::move(out));
}

/// The cheapest one with a price, or else the first; null if there is none.
const Replacement* CaseReader::cheapest_replacement() const {
  const auto cost = [](const Replacement& r) {
    return (r.price->base() + r.shipping.base()) * (1.0 + r.tax.base());
  };
  const Replacement* best = nullptr;
  for (const Replacement& replacement : case_.replacements) {
    if (!replacement.price) continue;
    if (best == nullptr || cost(replacement) < cost(*best)) best = &replacement;
  }
  if (best != nullptr || case_.replacements.empty()) return best;
  return &case_.replacements.front();
}

void CaseReader::read_horizon() {
  TableReader table = document_.section("horizon");
  Horizon& horizon = case_.horizon;
  if (table.has("years")) {
    horizon.years = table.quantity("years", limits::years).value_or(Quantity::exactly(1.0));
  }
  horizon.discount_rate =
      quantity_or_default(table, "discount_rate", limits::discount_rate, "horizon.discount_rate", "a year");
  table.finish();
}

void CaseReader::read_rest() {
  TableReader table = document_.section("rest");
  Rest& rest = case_.rest;
  if (table.has("remaining_years")) {
    rest.remaining_years = table.quantity("remaining_years", limits::years).value_or(Quantity::exactly(1.0));
  } else if (const Replacement* replacement = cheapest_replacement()) {
    if (const SourcedQuantity* share =
            find_default("rest.share_of_replacement_life", "rest.remaining_years", table.place())) {
      rest.remaining_years = share->value.scaled(replacement->life_years.base());
      record("rest.remaining_years",
             fmt::format("{}: {} of the life of '{}'", quantity_text(*rest.remaining_years, "years"),
                         quantity_text(share->value, ""), replacement->name),
             share->source);
    }
  } else {
    rest.remaining_years =
        take_default("rest.remaining_years", "rest.remaining_years", "years", table.place());
  }
  rest.shape = quantity_or_default(table, "shape", limits::shape, "rest.shape", "");
  table.finish();
}

void CaseReader::read_downtime() {
  TableReader table = document_.section("downtime");
  case_.downtime.per_day =
      quantity_or_default(table, "per_day", limits::money, "downtime.per_day", case_.device.currency.c_str());
  case_.downtime.bench_days =
      quantity_or_default(table, "bench_days", limits::days, "downtime.bench_days", "days");
  table.finish();
}

void CaseReader::read_licensed_repair() {
  if (!document_.has("licensed_repair")) return;
  TableReader table = document_.section("licensed_repair");
  LicensedRepair repair;
  repair.price = table.required_quantity("price", limits::money, "what the licensed repair costs, all in",
                                         "price = 120, or leave [licensed_repair] out");
  repair.chance = quantity_or_default(table, "chance", limits::chance, "licensed_repair.chance", "");
  repair.days = quantity_or_default(table, "days", limits::days, "licensed_repair.days", "days");
  table.finish();
  case_.licensed_repair = repair;
}

}  // namespace mendworth::input
