#include <fmt/format.h>

#include <string>

#include "mendworth/render.hpp"
#include "render/number_text.hpp"
#include "render/page.hpp"

namespace mendworth {

namespace {

// Rates get copied into cases, where a comma cannot stand in a number.
std::string digits_text(double value) {
  std::string text = number_text(value);
  std::erase(text, ',');
  return text;
}

// "3/5/10", "3..10" or "5": three points, two points or one.
std::string range_text(const Quantity& quantity) {
  switch (quantity.spread()) {
    case Spread::fixed: return digits_text(quantity.likely());
    case Spread::uniform:
      return fmt::format("{}..{}", digits_text(quantity.low()), digits_text(quantity.high()));
    case Spread::beta:
    case Spread::triangular:
      return fmt::format("{}/{}/{}", digits_text(quantity.low()), digits_text(quantity.likely()),
                         digits_text(quantity.high()));
  }
  return "";
}

std::string spread_text(double spread) { return spread > 1 ? number_text(spread) : "-"; }

const Table::Column name_column{"name", Table::Align::left, true};

// Many entries share a source: each source once, with the names that have it.
template <class Entry>
void write_sources(Page& page, const std::map<std::string, Entry>& entries) {
  std::map<std::string, std::string> names_by_source;
  for (const auto& [name, entry] : entries) {
    std::string& names = names_by_source[entry.source];
    names += (names.empty() ? "" : ", ") + name;
  }
  for (const auto& [source, names] : names_by_source) {
    const bool all = names_by_source.size() == 1;
    page.paragraph(fmt::format("{}: {}", all ? "Source" : names, source), false, 2, 2);
  }
}

void lives_table(Page& page, const RateBook& rates) {
  page.heading("Lives of wear parts: rated life, share failed by then, Weibull shape");
  Table table({name_column,
               {"rated life"},
               {"unit", Table::Align::left},
               {"within\nx/"},
               {"failed"},
               {"shape"},
               {"within\nx/"}});
  for (const auto& [name, entry] : rates.lives) {
    const LifePrior& life = entry.life;
    table.add_row({name, range_text(life.rated_life), name_of(life.unit), spread_text(life.life_spread),
                   percent_text(life.failed_at_rated), range_text(life.shape),
                   spread_text(life.shape_spread)});
  }
  page.table(table);
  page.paragraph("within x/: the true value lies within this factor in 68 % of cases.", false, 2);
  write_sources(page, rates.lives);
}

void quantities_table(Page& page, const std::string& heading, const std::string& column,
                      const std::map<std::string, SourcedQuantity>& entries) {
  page.heading(heading);
  Table table({name_column, {column}});
  for (const auto& [name, entry] : entries) table.add_row({name, range_text(entry.value)});
  page.table(table);
  write_sources(page, entries);
}

void terminations_table(Page& page, const RateBook& rates) {
  page.heading("Minutes for one position, by termination");
  Table table({name_column, {"remove"}, {"clean"}, {"fit"}, {"joints"}});
  for (const auto& [name, entry] : rates.terminations) {
    table.add_row({name, range_text(entry.remove_minutes), range_text(entry.clean_minutes),
                   range_text(entry.fit_minutes), fmt::format("{}", entry.joints)});
  }
  page.table(table);
  write_sources(page, rates.terminations);
}

// Chances are small: as percentages they are easier to compare.
std::string chance_text(const Quantity& quantity) { return range_text(quantity.scaled(100)) + " %"; }

void skills_list(Page& page, const RateBook& rates) {
  page.heading("Skill: factor on minutes, chances of damage and of a right diagnosis");
  for (const auto& [name, entry] : rates.skills) {
    page.item(
        fmt::format("{}: minutes x {}; damage per joint mendable {}, write-off {}; per opening mendable {}, "
                    "write-off {}; diagnosis right {}.",
                    name, number_text(entry.minutes_factor), chance_text(entry.joint_mendable),
                    chance_text(entry.joint_write_off), chance_text(entry.opening_mendable),
                    chance_text(entry.opening_write_off), chance_text(entry.diagnosis_right)));
  }
  write_sources(page, rates.skills);
}

void hazards_list(Page& page, const RateBook& rates) {
  page.heading("Hazards and their cautions");
  for (const auto& [name, entry] : rates.hazards) {
    std::string text =
        fmt::format("{}: {}{}.", name, entry.title, entry.licensed_only ? " (for licensed people only)" : "");
    for (const std::string& caution : entry.cautions) text += " " + caution;
    page.item(fmt::format("{} [{}]", text, entry.source));
  }
}

void currencies_list(Page& page, const RateBook& rates) {
  page.heading("Currencies and the digits of their minor unit");
  std::map<std::string, std::map<int, std::string>> by_source;
  for (const auto& [code, entry] : rates.currencies) {
    std::string& codes = by_source[entry.source][entry.minor_digits];
    codes += (codes.empty() ? "" : " ") + code;
  }
  for (const auto& [source, by_digits] : by_source) {
    for (const auto& [digits, codes] : by_digits)
      page.paragraph(fmt::format("{}: {}", digits, codes), false, 2, 3);
    page.paragraph(fmt::format("[{}]", source), false, 2, 1);
  }
}

}  // namespace

std::string rates_text(const RateBook& rates, const TextStyle& style) {
  Page page(style);
  page.paragraph(
      "Rates: what a case leaves out is taken from here. low/likely/high, low..high, or one value.", true);
  lives_table(page, rates);
  terminations_table(page, rates);
  quantities_table(page, "Minutes by operation", "minutes", rates.operations);
  skills_list(page, rates);
  quantities_table(page, "Kinds of devices: mean life of a new one", "years", rates.device_kinds);
  quantities_table(page, "Defaults, by the key of a case", "value", rates.defaults);
  hazards_list(page, rates);
  currencies_list(page, rates);
  return page.text();
}

}  // namespace mendworth
