#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"

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

// A table of entries by name, each with the number of its source, which stand below.
class SourcedTable {
 public:
  SourcedTable(Section& section, const char* name, std::vector<Table::Column> columns) : section_(section) {
    table_.name = name;
    table_.columns = std::move(columns);
    table_.columns.insert(table_.columns.begin(), {"name", false, true});
    table_.columns.push_back({"source"});
  }
  void add(const std::string& name, std::vector<std::string> cells, const std::string& source) {
    auto at = std::ranges::find(sources_, source);
    if (at == sources_.end()) at = sources_.insert(at, source);
    cells.insert(cells.begin(), name);
    cells.push_back(fmt::format("{}", at - sources_.begin() + 1));
    table_.add(std::move(cells));
  }
  void finish(const std::string& explanation = "", bool with_sources = true) {
    section_.add(std::move(table_));
    if (!explanation.empty()) section_.say(explanation);
    if (!with_sources) return;
    for (std::size_t i = 0; i < sources_.size(); ++i) section_.say(fmt::format("{}: {}", i + 1, sources_[i]));
  }

 private:
  Section& section_;
  Table table_;
  std::vector<std::string> sources_;
};

Section lives_of(const RateBook& rates) {
  Section section{"Lives of wear parts: rated life, share failed by then, Weibull shape"};
  SourcedTable lives(section, "lives", {{"rated life"}, {"unit", false}, {"failed"}});
  SourcedTable spreads(section, "life-spreads", {{"life within x/"}, {"shape"}, {"shape within x/"}});
  for (const auto& [name, entry] : rates.lives) {
    const LifePrior& life = entry.life;
    lives.add(name, {range_text(life.rated_life), name_of(life.unit), percent_text(life.failed_at_rated)},
              entry.source);
    spreads.add(name, {spread_text(life.life_spread), range_text(life.shape), spread_text(life.shape_spread)},
                entry.source);
  }
  lives.finish("", false);
  spreads.finish("within x/: the true value lies within this factor in 68 % of cases.");
  return section;
}

Section quantities_of(const std::string& heading, const char* name, const std::string& column,
                      const std::map<std::string, SourcedQuantity>& entries) {
  Section section{heading};
  SourcedTable table(section, name, {{column}});
  for (const auto& [key, entry] : entries) table.add(key, {range_text(entry.value)}, entry.source);
  table.finish();
  return section;
}

Section operations_of(const RateBook& rates) {
  return quantities_of("Minutes by operation", "operations", "minutes", rates.operations);
}
Section kinds_of(const RateBook& rates) {
  return quantities_of("Kinds of devices: mean life of a new one", "kinds", "years", rates.device_kinds);
}
Section defaults_of(const RateBook& rates) {
  return quantities_of("Defaults, by the key of a case", "defaults", "value", rates.defaults);
}

Section terminations_of(const RateBook& rates) {
  Section section{"Minutes for one position, by termination"};
  SourcedTable table(section, "terminations", {{"remove"}, {"clean"}, {"fit"}, {"joints"}});
  for (const auto& [name, entry] : rates.terminations) {
    table.add(name,
              {range_text(entry.remove_minutes), range_text(entry.clean_minutes),
               range_text(entry.fit_minutes), fmt::format("{}", entry.joints)},
              entry.source);
  }
  table.finish();
  return section;
}

// Chances are small: as percentages they are easier to compare.
std::string chance_of(const Quantity& quantity) { return range_text(quantity.scaled(100)) + " %"; }

Section skills_of(const RateBook& rates) {
  Section section{"Skill: factor on minutes, chances of damage and of a right diagnosis"};
  Table table{.columns = {{"", false}}, .compares_columns = true, .name = "skills"};
  table.rows = {{{"minutes x"}},
                {{"mendable damage, per joint"}},
                {{"write-off, per joint"}},
                {{"mendable damage, per opening"}},
                {{"write-off, per opening"}},
                {{"diagnosis right"}}};
  std::vector<std::string> sources;
  for (const auto& [name, entry] : rates.skills) {
    table.columns.push_back({name});
    const std::vector<std::string> cells{
        number_text(entry.minutes_factor),  chance_of(entry.joint_mendable),
        chance_of(entry.joint_write_off),   chance_of(entry.opening_mendable),
        chance_of(entry.opening_write_off), chance_of(entry.diagnosis_right)};
    for (std::size_t i = 0; i < cells.size(); ++i) table.rows[i].cells.push_back(cells[i]);
    sources.push_back(fmt::format("{}: {}", name, entry.source));
  }
  section.add(std::move(table));
  section.list(std::move(sources));
  return section;
}

Section hazards_of_rates(const RateBook& rates) {
  Section section{"Hazards and their cautions"};
  std::vector<std::string> items;
  for (const auto& [name, entry] : rates.hazards) {
    items.push_back(fmt::format("{}: {}{}. {} [{}]", name, entry.title,
                                entry.licensed_only ? " (for licensed people only)" : "",
                                fmt::join(entry.cautions, " "), entry.source));
  }
  section.list(std::move(items));
  return section;
}

Section currencies_of(const RateBook& rates) {
  Section section{"Currencies and the digits of their minor unit"};
  std::map<std::string, std::map<int, std::vector<std::string>>> by_source;
  for (const auto& [code, entry] : rates.currencies)
    by_source[entry.source][entry.minor_digits].push_back(code);
  for (const auto& [source, by_digits] : by_source) {
    for (const auto& [digits, codes] : by_digits)
      section.say(fmt::format("{}: {}", digits, fmt::join(codes, " ")));
    section.say(fmt::format("[{}]", source));
  }
  return section;
}

constexpr SectionOf<RateBook> rates_table[] = {
    {"lives", lives_of},           {"terminations", terminations_of},
    {"operations", operations_of}, {"skills", skills_of},
    {"kinds", kinds_of},           {"defaults", defaults_of},
    {"hazards", hazards_of_rates}, {"currencies", currencies_of}};

template <class Entry>
std::string names_in(const std::map<std::string, Entry>& entries) {
  std::vector<std::string> names;
  for (const auto& entry : entries) names.push_back(entry.first);
  return fmt::format("{}", fmt::join(names, ", "));
}

// The names that a case may use; the figures are a section away.
Section names_section(const RateBook& rates) {
  Section section;
  Facts facts;
  facts.add("Parts (lives)", names_in(rates.lives));
  facts.add("terminations", names_in(rates.terminations));
  facts.add("operations", names_in(rates.operations));
  facts.add("skills", names_in(rates.skills));
  facts.add("kinds of device", names_in(rates.device_kinds));
  facts.add("hazards", names_in(rates.hazards));
  facts.add("defaults", fmt::format("{} keys of a case", rates.defaults.size()));
  facts.add("currencies", fmt::format("{} codes", rates.currencies.size()));
  section.blocks.emplace_back(facts);
  return section;
}

}  // namespace

const std::vector<std::string>& rates_sections() { return section_names<rates_table>(); }

std::string rates_page(const RateBook& rates, const PageStyle& style) {
  Document page = answer_document("Rates");
  page.opening.emplace_back(Paragraph{
      "Rates: what a case leaves out is taken from here. low/likely/high, low..high, or one value.", true});
  page.first_screen = {names_section(rates)};
  page.sections = sections_of(rates, rates_table);
  return page_of(std::move(page), style);
}

}  // namespace mendworth
