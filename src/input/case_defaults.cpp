#include <utility>

#include <fmt/format.h>

#include "base/plain_number.hpp"
#include "input/case_reader.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

namespace {

/// As it stands behind a number.
std::string unit_text(std::string_view unit, const std::string& currency) {
  if (unit == "$") return currency;
  return unit == "minutes" ? "min" : std::string(unit);
}

}  // namespace

std::string quantity_text(const Quantity& quantity, std::string_view unit) {
  std::string out = number_text(quantity.base());
  if (!quantity.is_fixed())
    out += fmt::format(" ({} to {})", number_text(quantity.low()), number_text(quantity.high()));
  if (!unit.empty()) out += fmt::format(" {}", unit);
  return out;
}

void CaseReader::record(const std::string& key, std::string value, const std::string& source) {
  case_.defaults.push_back({key, std::move(value), source});
}

const SourcedQuantity* CaseReader::find_default(const std::string& default_key, const std::string& key,
                                                Place place) {
  const auto found = rates_.defaults.find(default_key);
  if (found != rates_.defaults.end()) return &found->second;
  problems_.add(place, key, fmt::format("missing, and the rates hold no default '{}'", default_key),
                "state it in the case, or add the default to the rates");
  return nullptr;
}

const SourcedNames* CaseReader::find_default_names(const std::string& default_key, const std::string& key,
                                                   Place place) {
  const auto found = rates_.default_names.find(default_key);
  if (found != rates_.default_names.end() && !found->second.names.empty()) return &found->second;
  problems_.add(place, key, fmt::format("missing, and the rates hold no default name '{}'", default_key),
                "state it in the case, or add the default to the rates");
  return nullptr;
}

Quantity CaseReader::take_default(const std::string& key, Place place) {
  const Input& input = input_of(key);
  const SourcedQuantity* found = find_default(std::string(input.rates), key, place);
  if (found == nullptr) return Quantity::exactly(1.0);
  record(key, quantity_text(found->value, unit_text(input.unit, case_.device.currency)), found->source);
  return found->value;
}

Quantity CaseReader::quantity_or_default(TableReader& table, std::string_view key) {
  if (!table.has(key)) return take_default(table.key_of(key), table.place());
  return table.quantity(key).value_or(Quantity::exactly(1.0));
}

void CaseReader::read_into(TableReader& table, void* owner) {
  table.read_into(owner, [&](const std::string& key) { return take_default(key, table.place()); });
}

Quantity CaseReader::minutes_or_default(TableReader& table, std::string_view key) {
  if (table.has(key)) return table.quantity(key).value_or(Quantity{});
  const std::string full_key = table.key_of(key);
  const SourcedNames* names = find_default_names(full_key, full_key, table.place());
  if (names == nullptr) return {};
  std::vector<Quantity> minutes;
  std::string list;
  for (const std::string& name : names->names) {
    const auto operation = rates_.operations.find(name);
    if (operation == rates_.operations.end()) {
      problems_.add(table.place(), full_key,
                    fmt::format("missing, and the rates hold no operation '{}'", name),
                    "state it in the case, or add the operation to the rates");
      continue;
    }
    minutes.push_back(operation->second.value);
    list += (list.empty() ? "" : ", ") + name;
  }
  const Quantity total = stretched(independent_sum(minutes), full_key, table.place());
  record(full_key, fmt::format("{}: {}{}", quantity_text(total, "min"), list, skill_text()), names->source);
  return total;
}

Quantity CaseReader::stretched(const Quantity& minutes, const std::string& key, Place place) {
  const Quantity out = minutes.scaled(case_.labour.skill_factor);
  for (const double end : {out.low(), out.high()}) {
    if (limits::minutes.allows(end)) continue;
    problems_.add(place, key,
                  fmt::format("the rates make it {}{}, allowed is {}", quantity_text(out, "min"),
                              skill_text(), limits::minutes.allowed_instead_of(end)),
                  "state it in the case, or correct the rates");
    break;
  }
  return out;
}

std::string CaseReader::skill_text() const {
  if (case_.labour.skill_factor == 1.0) return "";
  return fmt::format(", {} (times {})", case_.labour.skill, case_.labour.skill_factor);
}

std::optional<int> CaseReader::minor_digits(TableReader& table, std::string_view key,
                                            const std::string& code) {
  const auto found = rates_.currencies.find(code);
  if (found != rates_.currencies.end()) return found->second.minor_digits;
  table.fail(
      key, fmt::format("there is no currency '{}'", printable(code)),
      suggestion(code, names_of(rates_.currencies), "a currency is written as its ISO 4217 code: \"EUR\""));
  return std::nullopt;
}

void UniqueNames::add(TableReader& table, const std::string& name) {
  if (name.empty()) return;  // reported already
  const Node* node = table.find("name");
  const int line = node != nullptr ? node->place.line : 0;
  const auto [at, added] = line_of_.emplace(name, line);
  if (added) return;
  const int first = at->second;
  table.fail("name", fmt::format("the name '{}' is used twice", name),
             first > 0 ? fmt::format("first on line {}", first) : "");
}

}  // namespace mendworth::input
