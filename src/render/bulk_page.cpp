#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/beside.hpp"
#include "render/bulk_buying.hpp"
#include "render/bulk_charts.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_verdicts = 3, most_short_rows = 5;

Table::Role role_of(bool best) { return best ? Table::Role::best : Table::Role::plain; }

// Which law a record of past use has, and why.
std::string use_words(const UseFit& fit) {
  const std::string counted_on = fmt::format(
      "index of dispersion {} on {:.0f} degrees of freedom, p {}", decimals_text(fit.dispersion, 1),
      fit.degrees, fit.p < 0.001 ? "< 0.001" : "= " + decimals_text(fit.p, fit.p < 0.1 ? 3 : 2));
  const std::string rate = fmt::format(
      "{}: {} of '{}' in {} months from {} to {}, months without use counted: {} a month.", fit.source,
      count_text(std::lround(fit.pieces), "piece", "pieces"), fit.part, fit.months, date_text(fit.from),
      date_text(fit.to), kept_together(counted(fit.rate) + " +/- " + counted(fit.rate_error)));
  if (fit.size) {
    return fmt::format(
        "{} Months differ more than single uses by chance would make them ({}): pieces go in clumps, and the "
        "demand is negative binomial (k = {}), with what is not known of its rate.",
        rate, counted_on, decimals_text(*fit.size, 2));
  }
  return fmt::format(
      "{} Months differ no more than single uses by chance make them ({}): the demand is Poisson, with what "
      "is not known of its rate (a gamma law).",
      rate, counted_on);
}

Section demand_section(const BulkAnswer& a) {
  Section section{"What will be wanted"};
  for (const BulkScenario& scenario : a.scenarios) {
    say_scenario(section, a, scenario);
    Table table;
    table.name = name_in(a, "demand", scenario);
    table.columns = {{"part", false}, {"within"}, {"now"},    {"expected in all"}, {"5 %"},
                     {"50 %"},        {"95 %"},   {"a year"}, {"in the drawer"}};
    for (const PartDemand& d : scenario.demand) {
      table.add({d.part, years_text(d.years), fmt::format("{}", d.now), counted(d.mean),
                 fmt::format("{}", d.low), fmt::format("{}", d.median), fmt::format("{}", d.high),
                 counted(d.per_year), fmt::format("{}", d.drawer)});
    }
    section.add(std::move(table));
    section.add(demand_chart(name_in(a, "demand-band", scenario), scenario));
    for (const UseFit& fit : scenario.past_use) section.say(use_words(fit));
    if (scenario.demand.empty()) section.say("Nothing: no position of the case has failed.");
    if (scenario.policies) {
      const FleetPolicies& p = *scenario.policies;
      section.say(
          fmt::format("Failures in the next year: {} expected, {:.0f} to {:.0f} in nine of ten cases.",
                      counted(p.failures_next_year), p.failures_low, p.failures_high));
    }
  }
  section.say("5 %, 50 %, 95 %: the demand stays at or below that with this chance.");
  return section;
}

// "3 units"; with those that are broken now "10 units until those are back, then 3".
std::string units_words(const SwapOut& s) {
  std::string later = count_text(s.units, "unit", "units");
  if (s.units_at_first == s.units) return later;
  return fmt::format("{} until the {} broken now are back, then {}",
                     count_text(s.units_at_first, "unit", "units"), s.broken_now, s.units);
}

Section units_section(const BulkAnswer& a) {
  Section section{"Units to swap in"};
  for (const BulkScenario& scenario : a.scenarios) {
    say_scenario(section, a, scenario);
    const SwapOut& s = scenario.swap_out;
    const bool broken = s.broken_now > 0;
    section.say(fmt::format("{} a week come in and are back after {}: {} away at a time{}.",
                            counted(s.per_week), days_text(s.repair_days), counted(s.mean_away),
                            broken ? fmt::format(", and the {} broken now at first", s.broken_now) : ""));
    Table table;
    table.name = name_in(a, "units", scenario);
    table.columns = {
        {"units"}, {"no place without one"}, {"one at hand for the next"}, {"places without on average"}};
    if (broken) table.columns.insert(table.columns.begin() + 1, {"none without at first"});
    for (const SwapOutRow& row : s.rows) {
      std::vector<std::string> cells{fmt::format("{}", row.units), percent_text(row.cover),
                                     percent_text(row.at_hand), decimals_text(row.short_units, 3)};
      if (broken) cells.insert(cells.begin() + 1, percent_text(row.cover_at_first));
      const bool first = row.units == s.units_at_first, later = row.units == s.units;
      table.add(std::move(cells), role_of(first || later), later ? "*" : first ? "+" : "");
    }
    section.add(std::move(table));
    if (s.units_at_first != s.units)
      section.say("+ the fewest with which none is, until those that are broken now are back.");
  }
  section.say(
      fmt::format("* the fewest with which no place is without a unit, {} of the time.", percent(a.cover)));
  return section;
}

std::string turns_words(const FleetPolicies& p) {
  std::string text = fmt::format(
      "With all Weibull shapes changed in proportion, that of '{}' from {} to {} (now {}): ", p.shape_part,
      decimals_text(p.shape_low, 2), decimals_text(p.shape_high, 2), decimals_text(p.shape_now, 2));
  if (p.turns.empty()) return text + fmt::format("'{}' is cheapest throughout.", words_of(p.at_low));
  for (const PolicyTurn& turn : p.turns) {
    const std::string shape = kept_together(
        fmt::format("{} +/- {}", decimals_text(turn.shape, 2), decimals_text(std::max(turn.error, 0.01), 2)));
    text += fmt::format("up to {} '{}', ", shape, words_of(turn.below));
  }
  return text + fmt::format("from there '{}'.", words_of(p.turns.back().above));
}

const char* mark_of(const PolicyCost& cost) {
  return cost.cheapest ? "*" : cost.equal ? "=" : cost.can_be_done ? "" : "x";
}

Table policies_table(const BulkAnswer& a, const FleetPolicies& p, bool all) {
  const Sums sums = sums_in(a);
  Table table;
  table.columns = {{"policy", false}, {"openings"}, {"pieces"}};
  if (all) table.columns.insert(table.columns.end(), {{"work"}, {"parts"}, {"damage"}, {"down"}});
  table.columns.insert(table.columns.end(), {{"in all"}, {"+/-"}});
  for (const PolicyCost& cost : p.policies) {
    std::vector<std::string> cells{words_of(cost.policy), counted(cost.openings), counted(cost.pieces)};
    if (all) {
      for (const double sum : {cost.labour, cost.parts, cost.risk, cost.downtime})
        cells.push_back(sums.cell(sum, sum));
    }
    cells.insert(cells.end(), {sums.cell(cost.total, cost.total), sums.cell(cost.error)});
    table.add(std::move(cells), role_of(cost.cheapest), mark_of(cost));
  }
  return table;
}

// What cannot be told from the cheapest, and what cannot be done.
void say_reservations(Section& section, const BulkAnswer& a, const FleetPolicies& p) {
  const Sums sums = sums_in(a);
  for (const PolicyCost& cost : p.policies) {
    if (!cost.can_be_done) {
      section.say(fmt::format("x '{}' cannot be done now: it wants more pieces at once than the offers have.",
                              words_of(cost.policy)));
    } else if (cost.equal) {
      section.say(fmt::format("= '{}' costs as much as the cheapest within the error: {} more, {}.",
                              words_of(cost.policy), sums.amount(cost.more),
                              kept_together("+/- " + sums.amount(cost.more_error))));
    }
  }
}

Section policies_section(const BulkAnswer& a) {
  Section section{"How to look after them, " + a.currency};
  for (const BulkScenario& scenario : a.scenarios) {
    if (!scenario.policies) continue;
    const FleetPolicies& p = *scenario.policies;
    say_scenario(section, a, scenario);
    Table table = policies_table(a, p, true);
    table.name = name_in(a, "policies", scenario);
    table.caption = "For " + years_text(p.years);
    section.add(std::move(table));
    section.add(policies_chart(a, name_in(a, "policy-bars", scenario), p));
    say_reservations(section, a, p);
    if (std::ranges::any_of(p.policies, &PolicyCost::can_be_done)) section.say(turns_words(p));
  }
  if (section.empty()) return section;
  section.say(
      "Failed devices are opened now in any case. A campaign is done while nobody misses the devices. Damage "
      "includes consumables and devices lost. +/-: standard error over the futures; all policies meet the "
      "same ones, so their differences are known better.");
  return section;
}

Section notes_of_bulk(const BulkAnswer& a) { return notes_section(a.notes); }

Section assumed_in_bulk(const BulkAnswer& a) {
  std::vector<Weighing::DefaultRow> rows;
  for (const BulkDefault& used : a.defaults) rows.push_back({used.key, used.value, used.source});
  return assumed_section(rows);
}

constexpr SectionOf<BulkAnswer> bulk_table[] = {
    {"compare", compare_section},   {"offers", offers_section}, {"turns", turns_section},
    {"demand", demand_section},     {"buy", buy_section},       {"units", units_section},
    {"policies", policies_section}, {"notes", notes_of_bulk},   {"assumed", assumed_in_bulk}};

std::string policy_verdict(const BulkAnswer& a, const FleetPolicies& p) {
  const Sums sums = sums_in(a);
  const PolicyCost* best = nullptr;
  const PolicyCost* next = nullptr;
  for (const PolicyCost& cost : p.policies) {
    if (cost.cheapest) best = &cost;
    if (cost.can_be_done && !cost.cheapest && (next == nullptr || cost.more < next->more)) next = &cost;
  }
  if (best == nullptr) return "No way to look after them can be had with these offers: too few pieces.";
  std::string text = fmt::format("Look after them so: {}. {} over {}", words_of(best->policy),
                                 sums.amount(best->total), years_text(p.years));
  if (next != nullptr) {
    text += next->equal
                ? fmt::format("; '{}' costs as much within the error", words_of(next->policy))
                : fmt::format(", {} less than '{}' ({})", sums.amount(next->more), words_of(next->policy),
                              kept_together("+/- " + error_text(next->more_error, a.minor_digits)));
  }
  return text + ".";
}

// What to do for one demand, in a sentence each.
std::vector<std::string> verdicts(const BulkAnswer& a, const BulkScenario& scenario) {
  std::vector<std::string> said;
  for (const BulkChoice& choice : scenario.choices) said.push_back(choice_verdict(a, scenario, choice));
  if (said.empty()) said.emplace_back("Buy nothing: no position of the case has failed.");
  if (scenario.policies) said.push_back(policy_verdict(a, *scenario.policies));
  const SwapOut& swap = scenario.swap_out;
  said.push_back(swap.units_at_first == 0 ? "Keep no unit to swap in."
                                          : fmt::format("Keep {} to swap in.", units_words(swap)));
  return said;
}

std::vector<DocumentBlock> opening_of(const BulkAnswer& a) {
  std::vector<DocumentBlock> blocks;
  for (std::size_t i = 0; i < std::min(most_verdicts, a.scenarios.size()); ++i) {
    const BulkScenario& scenario = a.scenarios[i];
    blocks.emplace_back(Paragraph{fmt::format("{}, {}", a.device, scenario.name), false});
    for (const std::string& text : verdicts(a, scenario)) blocks.emplace_back(Paragraph{text, true});
  }
  return blocks;
}

// The best quantity with its neighbours.
Table near_best(const BulkAnswer& a, const BulkLadder& ladder) {
  Table table = ladder_table(a, ladder, false);
  const auto best = std::ranges::find_if(table.rows, [](const Table::Row& row) { return !row.mark.empty(); });
  const auto at = static_cast<std::size_t>(best - table.rows.begin());
  const std::size_t last =
      std::min(table.rows.size(), std::max(most_short_rows, at + most_short_rows / 2 + 1));
  const std::size_t first = last > most_short_rows ? last - most_short_rows : 0;
  table.rows = {table.rows.begin() + static_cast<std::ptrdiff_t>(first),
                table.rows.begin() + static_cast<std::ptrdiff_t>(last)};
  return table;
}

std::vector<Section> first_screen_of(const BulkAnswer& a) {
  std::vector<Section> sections{compare_section(a)};
  const BulkScenario& scenario = a.scenarios.front();
  if (sections.front().empty() && a.scenarios.size() == 1 && !scenario.choices.empty()) {
    const BulkLadder& ladder = scenario.ladders[scenario.choices.front().ladder];
    Section section{"How many to buy once, " + a.currency};
    Table table = near_best(a, ladder);
    table.name = "buy-short";
    table.caption = scenario.ladders.size() > 1 ? ladder_name(ladder) : "";
    section.add(std::move(table));
    section.say(
        "enough: the chance that so many are; expected cost: with ordering, keeping, what is missing and "
        "what is left in the end.");
    sections.push_back(section);
  }
  if (scenario.policies && a.scenarios.size() == 1) {
    Section section{
        fmt::format("How to look after them for {}, {}", years_text(scenario.policies->years), a.currency)};
    Table table = policies_table(a, *scenario.policies, false);
    table.name = "policies-short";
    section.add(std::move(table));
    say_reservations(section, a, *scenario.policies);
    sections.push_back(section);
  }
  return sections;
}

}  // namespace

const std::vector<std::string>& bulk_sections() {
  static const std::vector<std::string> names = with_beside(section_names<bulk_table>());
  return names;
}

std::string bulk_page(const BulkAnswer& a, const PageStyle& style) {
  return compared_page(Compared<BulkAnswer>{a, {}}, style);
}

std::string compared_page(const Compared<BulkAnswer>& all, const PageStyle& style) {
  const BulkAnswer& a = all.answer;
  Document page = answer_document("How many to buy: " + a.device);
  page.opening = opening_of(a);
  page.first_screen = first_screen_of(a);
  page.sections = sections_of(a, bulk_table);
  page.sections.push_back(beside_bulk(all, stars_in(style)));
  page.first_screen.push_back(page.sections.back());
  page.report = {{"What to buy", {"buy", "compare", "offers", "turns"}},
                 {"How to look after them", {"policies"}},
                 {"What will be wanted", {"demand"}},
                 {"Units to swap in", {"units"}},
                 {"What if", {beside_name}},
                 {"How it was worked out", {"notes", "assumed"}}};
  page.notes = static_cast<long long>(a.notes.size());
  page.closing.push_back({fmt::format("mendworth {}.", version())});
  return page_of(std::move(page), style);
}

}  // namespace mendworth
