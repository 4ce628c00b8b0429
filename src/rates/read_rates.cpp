#include "rates/read_rates.hpp"

#include <utility>

#include <fmt/format.h>

#include "domain/inputs.hpp"
#include "input/suggest.hpp"

namespace mendworth {

namespace {

using input::Node;
using input::Problems;
using input::TableReader;

constexpr const char* source_remedy =
    "write source = \"author, title\", \"common practice, no source\" or \"from memory: ...\"";

/// The source of an entry: its own, or that of the whole file.
std::string read_source(TableReader& entry, const std::string& file_source) {
  if (!entry.has("source")) {
    if (file_source.empty()) entry.missing("source", "where the figures come from", source_remedy);
    return file_source;
  }
  return entry.text("source").value_or("");
}

Quantity required(TableReader& entry, std::string_view key, const Limits& allowed) {
  if (!entry.has(key)) entry.missing(key, "a number or a range", "an entry states all of its figures");
  return entry.quantity(key, allowed).value_or(Quantity::exactly(1.0));
}

double required_number(TableReader& entry, std::string_view key, const Limits& allowed) {
  if (!entry.has(key)) entry.missing(key, "a number", "an entry states all of its figures");
  return entry.number(key, allowed).value_or(1.0);
}

LifeClass read_life_class(TableReader& entry, const std::string& source) {
  LifeClass out;
  if (!entry.has("unit")) entry.missing("unit", "the unit of the life", "cycles, hours or years");
  constexpr LifeUnit units[] = {LifeUnit::cycles, LifeUnit::hours, LifeUnit::years};
  out.life.unit = units[entry.choice("unit", {"cycles", "hours", "years"}).value_or(0)];
  out.life.rated_life = required(entry, "rated_life", limits::life);
  out.life.failed_at_rated = required_number(entry, "failed_at_rated", limits::fraction_failed);
  out.life.life_spread = required_number(entry, "life_spread", limits::life_spread);
  out.life.shape = required(entry, "shape", limits::shape);
  out.life.shape_spread = required_number(entry, "shape_spread", limits::shape_spread);
  out.source = source;
  return out;
}

SourcedQuantity read_device_kind(TableReader& entry, const std::string& source) {
  return {required(entry, "life_years", limits::device_life), source};
}

SourcedQuantity read_operation(TableReader& entry, const std::string& source) {
  return {required(entry, "minutes", limits::minutes), source};
}

Termination read_termination(TableReader& entry, const std::string& source) {
  Termination out;
  out.remove_minutes = required(entry, "remove_minutes", limits::minutes);
  out.clean_minutes = required(entry, "clean_minutes", limits::minutes);
  out.fit_minutes = required(entry, "fit_minutes", limits::minutes);
  if (!entry.has("joints"))
    entry.missing("joints", "the usual number of joints", "0 where nothing is joined");
  out.joints = entry.integer("joints", 0, most_joints).value_or(0);
  out.source = source;
  return out;
}

Skill read_skill(TableReader& entry, const std::string& source) {
  Skill out;
  out.minutes_factor = required_number(entry, "minutes_factor", limits::factor);
  out.joint_mendable = required(entry, "joint_mendable", limits::chance);
  out.joint_write_off = required(entry, "joint_write_off", limits::chance);
  out.opening_mendable = required(entry, "opening_mendable", limits::chance);
  out.opening_write_off = required(entry, "opening_write_off", limits::chance);
  out.diagnosis_right = required(entry, "diagnosis_right", limits::chance);
  out.source = source;
  return out;
}

Hazard read_hazard(TableReader& entry, const std::string& source) {
  Hazard out;
  out.title = entry.required_text("title", "the hazard in words", "");
  out.licensed_only = entry.flag("licensed_only").value_or(false);
  out.cautions = entry.texts("cautions");
  if (out.cautions.empty()) entry.missing("cautions", "a list of sentences", "at least one");
  out.source = source;
  return out;
}

CurrencyRate read_currency(TableReader& entry, const std::string& source) {
  if (!entry.has("minor_digits"))
    entry.missing("minor_digits", "the digits after the decimal point", "ISO 4217");
  return {entry.integer("minor_digits", 0, 4).value_or(2), source};
}

/// Reads one kind of table: every entry is a table; `read_entry` turns it into a value of `book`.
template <class Value, class ReadEntry>
void read_entries(TableReader& document, std::string_view kind, const std::string& file_source,
                  std::map<std::string, Value>& book, const ReadEntry& read_entry) {
  const TableReader table = document.section(kind);
  for (const input::Entry& item : table.entries()) {
    const std::string key = table.key_of(item.key);
    if (!item.value.is_table()) {
      table.problems().add(item.value.place, key,
                           fmt::format("found {}, a table is wanted", item.value.described()), "");
      continue;
    }
    TableReader entry(item.value, key, table.problems());
    const std::string source = read_source(entry, file_source);
    book[item.key] = read_entry(entry, source);
    entry.finish();
  }
}

/// "EUR = 2" is short for a table with minor_digits = 2 and the file's source.
void read_currencies(TableReader& document, const std::string& file_source, RateBook& book) {
  const TableReader table = document.section("currency");
  for (const input::Entry& item : table.entries()) {
    Node as_table = item.value;
    if (!item.value.is_table()) {
      as_table = Node{};
      as_table.place = item.value.place;
      as_table.entries.push_back({"minor_digits", item.key_place, item.value});
    }
    TableReader entry(as_table, table.key_of(item.key), table.problems());
    const std::string source = read_source(entry, file_source);
    book.currencies[item.key] = read_currency(entry, source);
    entry.finish();
  }
}

void read_defaults(TableReader& document, const std::string& file_source, RateBook& book) {
  TableReader table = document.section("default");
  for (const auto& [key, allowed] : defaults_of_inputs()) {
    if (!table.has(key)) continue;
    TableReader entry = table.section(key);
    const std::string source = read_source(entry, file_source);
    book.defaults[key] = {required(entry, "value", allowed), source};
    entry.finish();
  }
  table.finish();
}

void read_default_names(TableReader& document, const std::string& file_source, RateBook& book) {
  TableReader table = document.section("default_names");
  for (const char* key : {"fault.cause", "labour.skill", "labour.case_minutes", "labour.visit_minutes",
                          "position.termination", "bulk.order_minutes"}) {
    if (!table.has(key)) continue;
    TableReader entry = table.section(key);
    const std::string source = read_source(entry, file_source);
    SourcedNames names{entry.texts("names"), source};
    if (names.names.empty()) entry.missing("names", "a list of names", "at least one");
    book.default_names[key] = std::move(names);
    entry.finish();
  }
  table.finish();
}

}  // namespace

void read_rates(TableReader& document, RateBook& book) {
  const std::string source = document.text("source").value_or("");
  read_entries(document, "life", source, book.lives, read_life_class);
  read_entries(document, "operation", source, book.operations, read_operation);
  read_entries(document, "termination", source, book.terminations, read_termination);
  read_entries(document, "skill", source, book.skills, read_skill);
  read_entries(document, "device_kind", source, book.device_kinds, read_device_kind);
  read_entries(document, "hazard", source, book.hazards, read_hazard);
  read_defaults(document, source, book);
  read_default_names(document, source, book);
  read_currencies(document, source, book);
  document.finish();
}

void check_default_names(const RateBook& book, Problems& problems) {
  const auto check = [&](const char* key, const auto& table, const char* kind) {
    const auto found = book.default_names.find(key);
    if (found == book.default_names.end()) return;
    for (const std::string& name : found->second.names) {
      if (table.count(name) > 0) continue;
      problems.add({}, fmt::format("default_names.{}", key), fmt::format("there is no {} '{}'", kind, name),
                   input::suggestion(name, input::names_of(table)));
    }
  };
  check("labour.skill", book.skills, "skill");
  check("position.termination", book.terminations, "termination");
  check("labour.case_minutes", book.operations, "operation");
  check("labour.visit_minutes", book.operations, "operation");
  check("bulk.order_minutes", book.operations, "operation");
}

}  // namespace mendworth
