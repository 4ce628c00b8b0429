#include <algorithm>
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
  out.life_years =
      table.required_quantity("life_years", limits::device_life,
                              "how many years the replacement is expected to last; only you can say",
                              "write life_years = 5, or a range: { low = 3, high = 8 }");
  out.alike = table.flag("alike").value_or(false);
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

void CaseReader::read_horizon() {
  TableReader table = document_.section("horizon");
  Horizon& horizon = case_.horizon;
  horizon.years = table.quantity("years", limits::years_of_need);
  if (table.has("count_unused_life")) {
    table.fail("count_unused_life",
               "is needed no longer: the need for a device goes on, so no life is left unused at its end",
               "leave it out; years says when a need ends");
  }
  horizon.discount_rate =
      quantity_or_default(table, "discount_rate", limits::discount_rate, "horizon.discount_rate", "a year");
  table.finish();
}

void CaseReader::read_rest() {
  TableReader table = document_.section("rest");
  case_.rest.remaining_years = table.quantity("remaining_years", limits::device_life);
  if (!table.has("remaining_years")) read_device_life();
  case_.rest.shape = quantity_or_default(table, "shape", limits::shape, "rest.shape", "");
  table.finish();
}

/// How long a new device like this one lasts: as stated, or of its kind, or what the case says of a new one.
void CaseReader::read_device_life() {
  Quantity& life = case_.device.life_years;
  if (device_life_) {
    life = *device_life_;
    return;
  }
  const auto like_it = std::find_if(case_.replacements.begin(), case_.replacements.end(),
                                    [](const Replacement& replacement) { return replacement.alike; });
  if (case_.device.kind.empty() && like_it != case_.replacements.end()) {
    life = like_it->life_years;
    record("device.life_years", fmt::format("{}: that of '{}'", quantity_text(life, "years"), like_it->name),
           "the case: it is alike");
    return;
  }
  const std::string kind = case_.device.kind.empty() ? "other" : case_.device.kind;
  const auto found = rates_.device_kinds.find(kind);
  if (found == rates_.device_kinds.end()) {
    life = Quantity::exactly(1.0);
    // An unknown kind was reported already.
    if (case_.device.kind.empty()) {
      problems_.add({}, "device.life_years", "missing, and the rates hold no kind of device 'other'",
                    "state it in the case, or add the kind to the rates");
    }
    return;
  }
  life = found->second.value;
  record("device.life_years", fmt::format("{}: {}", quantity_text(life, "years"), kind),
         found->second.source);
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
