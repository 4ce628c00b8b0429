#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"

namespace mendworth::input {

void CaseReader::read_consumables() {
  UniqueNames names;
  for (TableReader& table : document_.sections("consumable")) {
    Consumable& consumable = case_.consumables.emplace_back();
    read_into(table, &consumable);
    names.add(table, consumable.name);
    table.finish();
  }
}

void CaseReader::read_replacements() {
  std::vector<TableReader> tables = document_.sections("replacement");
  if (!case_.device.must_keep) document_.require("replacement");
  UniqueNames names;
  for (TableReader& table : tables) {
    Replacement& replacement = case_.replacements.emplace_back();
    read_into(table, &replacement);
    replacement.exchange_rate = read_exchange(table, replacement.currency);
    if (replacement.exchange_rate && !replacement.price) {
      table.fail("currency",
                 "there is no price in it: the most that is worth paying is in the case's currency",
                 "leave it out");
    }
    table.finish();
    names.add(table, replacement.name);
  }
}

void CaseReader::read_horizon() {
  TableReader table = document_.section("horizon");
  if (table.has("count_unused_life")) {
    table.fail("count_unused_life",
               "is needed no longer: the need for a device goes on, so no life is left unused at its end",
               "leave it out; years says when a need ends");
  }
  read_into(table, &case_.horizon);
  table.finish();
}

void CaseReader::read_rest() {
  TableReader table = document_.section("rest");
  read_into(table, &case_.rest);
  if (!table.has("remaining_years")) read_device_life();
  table.finish();
}

/// How long a new device like this one lasts: as stated, or of its kind, or what the case says of a new one.
void CaseReader::read_device_life() {
  if (states_life_) return;
  Quantity& life = case_.device.life_years;
  const auto like_it = std::ranges::find_if(case_.replacements, &Replacement::alike);
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

}  // namespace mendworth::input
