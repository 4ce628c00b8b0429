#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/beside.hpp"
#include "render/bulk_charts.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_verdicts = 3, most_short_rows = 5;

Sums sums_of(const BulkAnswer& a) { return {a.currency, a.minor_digits}; }

std::string count(double value) { return decimals_text(value, value < 10 ? 2 : value < 100 ? 1 : 0); }

Table::Role role_of(bool best) { return best ? Table::Role::best : Table::Role::plain; }

// A table's name where there are several demands, of which each has one.
std::string name_of(const BulkAnswer& a, const std::string& base, const BulkScenario& scenario) {
  return a.scenarios.size() > 1 ? base + " " + scenario.name : base;
}

void say_scenario(Section& section, const BulkAnswer& a, const BulkScenario& scenario) {
  if (a.scenarios.size() > 1) section.say((scenario.fleet ? "Fleet: " : "Shop: ") + scenario.name, true);
}

std::string ladder_name(const BulkLadder& ladder) {
  return part_text(ladder.part, ladder.candidate) +
         (ladder.quotation.empty() ? "" : ", as quoted in " + ladder.quotation);
}

Section demand_section(const BulkAnswer& a) {
  Section section{"What will be wanted"};
  for (const BulkScenario& scenario : a.scenarios) {
    say_scenario(section, a, scenario);
    Table table;
    table.name = name_of(a, "demand", scenario);
    table.columns = {{"part", false}, {"within"}, {"now"},  {"expected in all"},
                     {"5 %"},         {"50 %"},   {"95 %"}, {"a year"}};
    for (const PartDemand& d : scenario.demand) {
      table.add({d.part, years_text(d.years), fmt::format("{}", d.now), count(d.mean),
                 fmt::format("{}", d.low), fmt::format("{}", d.median), fmt::format("{}", d.high),
                 count(d.per_year)});
    }
    section.add(std::move(table));
    section.add(demand_chart(name_of(a, "demand-band", scenario), scenario));
    if (scenario.demand.empty()) section.say("Nothing: no position of the case has failed.");
    if (scenario.policies) {
      const FleetPolicies& p = *scenario.policies;
      section.say(
          fmt::format("Failures in the next year: {} expected, {:.0f} to {:.0f} in nine of ten cases.",
                      count(p.failures_next_year), p.failures_low, p.failures_high));
    }
  }
  section.say("5 %, 50 %, 95 %: the demand stays at or below that with this chance.");
  return section;
}

// "from one"; "30 from one and 20 from another".
std::string bought_of(const std::vector<BulkLine>& lines) {
  std::string text;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i > 0) text += i + 1 == lines.size() ? " and " : ", ";
    if (lines.size() > 1) text += fmt::format("{} ", lines[i].quantity);
    text += "from " + lines[i].supplier;
  }
  return text;
}

// All figures of a row, or the few that fit a first screen.
Table ladder_table(const BulkAnswer& a, const BulkLadder& ladder, bool all) {
  const Sums sums = sums_of(a);
  Table table;
  table.columns = {{"pieces"}, {"each"}, {"landed"}, {"landed each"}, {"enough"}};
  if (a.until > 0) table.columns.push_back({"out in " + years_text(a.until)});
  table.columns.insert(table.columns.end(),
                       {{"short pieces"}, {"left pieces"}, {"years of stock"}, {"expected cost"}});
  if (!all) table.columns = {{"pieces"}, {"landed"}, {"enough"}, {"years of stock"}, {"expected cost"}};
  for (const BulkRow& row : ladder.rows) {
    // Where the order is divided, a piece has several prices.
    const std::string each =
        row.lines.size() == 1 ? sums.each(row.lines.front().each, row.lines.front().currency) : "-";
    const std::string years = row.years_of_stock > 0 ? count(row.years_of_stock) : "-";
    const std::string pieces = fmt::format("{}", row.quantity);
    std::vector<std::string> cells{pieces, sums.cell(row.landed, row.landed), percent_text(row.suffices),
                                   years, sums.cell(row.cost, row.cost)};
    if (all) {
      cells = {pieces, each, cells[1],
               row.quantity == 0 ? "-" : unit_price_text(row.landed_each, a.minor_digits), cells[2]};
      if (a.until > 0) cells.push_back(percent_text(row.runs_out_by));
      cells.insert(cells.end(),
                   {count(row.short_pieces), count(row.left_pieces), years, sums.cell(row.cost, row.cost)});
    }
    table.add(std::move(cells), role_of(row.best), row.best ? "*" : "");
  }
  return table;
}

std::string best_words(const BulkAnswer& a, const BulkLadder& ladder) {
  const Sums sums = sums_of(a);
  const BulkRow& best = ladder.best;
  if (best.quantity == 0) {
    return fmt::format("* Bought once: best nothing. A missing piece costs {}, an order in advance more.",
                       sums.amount(ladder.shortage_cost));
  }
  return fmt::format(
      "* Bought once: best {}, {}, for {}. A missing piece is taken to cost {}. Enough with a chance of "
      "{}; pieces expected to be written off at the end: {}.",
      count_text(best.quantity, "piece", "pieces"), bought_of(best.lines), sums.amount(best.landed),
      sums.amount(ladder.shortage_cost), percent(best.suffices), sums.amount(best.write_off));
}

std::string repeated_words(const BulkAnswer& a, const RepeatedOrders& r) {
  const Sums sums = sums_of(a);
  return fmt::format(
      "Bought again and again: {} at a time, {}, {} orders a year, for {} a year (pieces {}, ordering {}, "
      "keeping {}). Order when {} left: that lasts the lead time of {} with a chance of {}.",
      count_text(r.quantity, "piece", "pieces"), bought_of(r.lines), count(r.orders_per_year),
      sums.amount(r.total), sums.amount(r.purchase), sums.amount(r.ordering), sums.amount(r.carrying),
      r.reorder_point == 1 ? "1 is" : fmt::format("{} are", r.reorder_point), days_text(r.lead_days),
      percent(r.reorder_cover));
}

Section buy_section(const BulkAnswer& a) {
  Section section{"What to buy, " + a.currency};
  for (const BulkScenario& scenario : a.scenarios) {
    say_scenario(section, a, scenario);
    for (const BulkLadder& ladder : scenario.ladders) {
      Table table = ladder_table(a, ladder, true);
      table.caption = ladder_name(ladder);
      table.name = name_of(a, "buy " + ladder_name(ladder), scenario);
      section.add(std::move(table));
      section.add(bulk_ladder_chart(a, name_of(a, "price " + ladder_name(ladder), scenario), ladder,
                                    ladder_name(ladder)));
      for (const BulkAsked& asked : ladder.asked) {
        if (asked.instead > asked.pieces) {
          section.say(fmt::format("{} asked about: {} cost no more.",
                                  count_text(asked.pieces, "piece", "pieces"), asked.instead));
        }
      }
      if (ladder.most)
        section.say(
            fmt::format("The offers have {} between them.", count_text(*ladder.most, "piece", "pieces")));
      section.say(best_words(a, ladder));
      if (ladder.repeated) section.say(repeated_words(a, *ladder.repeated));
    }
  }
  return section;
}

const SwapOutRow* chosen_units(const BulkScenario& scenario) {
  const auto& rows = scenario.swap_out.rows;
  const auto chosen =
      std::find_if(rows.begin(), rows.end(), [](const SwapOutRow& row) { return row.chosen; });
  return chosen == rows.end() ? nullptr : &*chosen;
}

Section units_section(const BulkAnswer& a) {
  Section section{"Units to swap in"};
  for (const BulkScenario& scenario : a.scenarios) {
    say_scenario(section, a, scenario);
    const SwapOut& s = scenario.swap_out;
    section.say(fmt::format("{} a week come in and are back after {}: {} away at a time.", count(s.per_week),
                            days_text(s.repair_days), count(s.mean_away)));
    Table table;
    table.name = name_of(a, "units", scenario);
    table.columns = {
        {"units"}, {"no place without one"}, {"one at hand for the next"}, {"places without on average"}};
    for (const SwapOutRow& row : s.rows) {
      table.add({fmt::format("{}", row.units), percent_text(row.cover), percent_text(row.at_hand),
                 decimals_text(row.short_units, 3)},
                role_of(row.chosen), row.chosen ? "*" : "");
    }
    section.add(std::move(table));
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
  const Sums sums = sums_of(a);
  Table table;
  table.columns = {{"policy", false}, {"openings"}, {"pieces"}};
  if (all) table.columns.insert(table.columns.end(), {{"work"}, {"parts"}, {"damage"}, {"down"}});
  table.columns.insert(table.columns.end(), {{"in all"}, {"+/-"}});
  for (const PolicyCost& cost : p.policies) {
    std::vector<std::string> cells{words_of(cost.policy), count(cost.openings), count(cost.pieces)};
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
  const Sums sums = sums_of(a);
  for (const PolicyCost& cost : p.policies) {
    if (!cost.can_be_done) {
      section.say(fmt::format("x '{}' cannot be done now: it wants more pieces at once than the offers have.",
                              words_of(cost.policy)));
    } else if (cost.equal) {
      section.say(fmt::format("= '{}' costs as much as the cheapest within the error: {} more, +/- {}.",
                              words_of(cost.policy), sums.amount(cost.more), sums.amount(cost.more_error)));
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
    table.name = name_of(a, "policies", scenario);
    table.caption = "For " + years_text(p.years);
    section.add(std::move(table));
    section.add(policies_chart(a, name_of(a, "policy-bars", scenario), p));
    say_reservations(section, a, p);
    if (std::any_of(p.policies.begin(), p.policies.end(),
                    [](const PolicyCost& cost) { return cost.can_be_done; }))
      section.say(turns_words(p));
  }
  if (section.empty()) return section;
  section.say(
      "Failed devices are opened now in any case. A campaign is done while nobody misses the devices. Damage "
      "includes consumables and devices lost. +/-: standard error over the futures; all policies meet the "
      "same ones, so their differences are known better.");
  return section;
}

// Several demands or quotations side by side.
Section compare_section(const BulkAnswer& a) {
  Section section{"Side by side, " + a.currency};
  const auto& ladders = a.scenarios.front().ladders;
  const bool quoted =
      std::any_of(ladders.begin(), ladders.end(), [](const BulkLadder& l) { return !l.quotation.empty(); });
  if (a.scenarios.size() < 2 && !quoted) return section;
  const Sums sums = sums_of(a);
  Table table;
  table.name = "compare";
  table.columns = {{"demand", false}, {"piece", false},  {"offer", false},           {"best bought once"},
                   {"landed"},        {"expected cost"}, {"again and again, a year"}};
  for (const BulkScenario& scenario : a.scenarios) {
    for (const BulkLadder& ladder : scenario.ladders) {
      const BulkRow& best = ladder.best;
      table.add({scenario.name, ladder.candidate, ladder.quotation.empty() ? "the case's" : ladder.quotation,
                 fmt::format("{}", best.quantity), sums.cell(best.landed, best.landed),
                 sums.cell(best.cost, best.cost), ladder.repeated ? sums.cell(ladder.repeated->total) : "-"});
    }
  }
  section.add(std::move(table));
  return section;
}

Section notes_of_bulk(const BulkAnswer& a) { return notes_section(a.notes); }

Section assumed_in_bulk(const BulkAnswer& a) {
  std::vector<Weighing::DefaultRow> rows;
  for (const BulkDefault& used : a.defaults) rows.push_back({used.key, used.value, used.source});
  return assumed_section(rows);
}

constexpr SectionOf<BulkAnswer> bulk_table[] = {{"compare", compare_section},   {"demand", demand_section},
                                                {"buy", buy_section},           {"units", units_section},
                                                {"policies", policies_section}, {"notes", notes_of_bulk},
                                                {"assumed", assumed_in_bulk}};

// Of the ladders of each part the one that comes cheapest.
std::vector<const BulkLadder*> cheapest_ladders(const BulkScenario& scenario) {
  std::vector<const BulkLadder*> cheapest;
  for (const BulkLadder& ladder : scenario.ladders) {
    const auto same = std::find_if(cheapest.begin(), cheapest.end(),
                                   [&](const BulkLadder* other) { return other->part == ladder.part; });
    if (same == cheapest.end()) {
      cheapest.push_back(&ladder);
    } else if (ladder.best.cost < (*same)->best.cost) {
      *same = &ladder;
    }
  }
  return cheapest;
}

std::string buy_verdict(const BulkAnswer& a, const BulkLadder& ladder, double years) {
  const BulkRow& best = ladder.best;
  if (best.quantity == 0) return fmt::format("Buy nothing of {} in advance.", ladder_name(ladder));
  return fmt::format("Buy {} of {} {}: {} delivered, enough for {} with a chance of {}.",
                     count_text(best.quantity, "piece", "pieces"), ladder_name(ladder), bought_of(best.lines),
                     sums_of(a).amount(best.landed), years_text(years), percent(best.suffices));
}

std::string policy_verdict(const BulkAnswer& a, const FleetPolicies& p) {
  const Sums sums = sums_of(a);
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
    text += next->equal ? fmt::format("; '{}' costs as much within the error", words_of(next->policy))
                        : fmt::format(", {} less than '{}' (+/- {})", sums.amount(next->more),
                                      words_of(next->policy), error_text(next->more_error, a.minor_digits));
  }
  return text + ".";
}

// What to do for one demand, in a sentence each.
std::vector<std::string> verdicts(const BulkAnswer& a, const BulkScenario& scenario) {
  std::vector<std::string> said;
  for (const BulkLadder* ladder : cheapest_ladders(scenario)) {
    const auto demand = std::find_if(scenario.demand.begin(), scenario.demand.end(),
                                     [&](const PartDemand& d) { return d.part == ladder->part; });
    said.push_back(buy_verdict(a, *ladder, demand == scenario.demand.end() ? 0 : demand->years));
    if (!scenario.fleet && ladder->repeated) {
      const RepeatedOrders& r = *ladder->repeated;
      said.push_back(fmt::format("Or order {} at a time, whenever {} left: {} a year.", r.quantity,
                                 r.reorder_point == 1 ? "1 is" : fmt::format("{} are", r.reorder_point),
                                 sums_of(a).amount(r.total)));
    }
  }
  if (said.empty()) said.emplace_back("Buy nothing: no position of the case has failed.");
  if (scenario.policies) said.push_back(policy_verdict(a, *scenario.policies));
  if (const SwapOutRow* units = chosen_units(scenario)) {
    said.push_back(units->units == 0
                       ? "Keep no unit to swap in."
                       : fmt::format("Keep {} to swap in.", count_text(units->units, "unit", "units")));
  }
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
  const auto best = std::find_if(table.rows.begin(), table.rows.end(),
                                 [](const Table::Row& row) { return !row.mark.empty(); });
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
  sections.front().parts.clear();
  const BulkScenario& scenario = a.scenarios.front();
  if (sections.front().empty() && !scenario.ladders.empty()) {
    Section section{"How many to buy once, " + a.currency};
    Table table = near_best(a, scenario.ladders.front());
    table.name = "buy-short";
    table.caption = scenario.ladders.size() > 1 ? ladder_name(scenario.ladders.front()) : "";
    section.add(std::move(table));
    section.say(
        "enough: the chance that so many are; expected cost: with what is missing and left in the end.");
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
  static const std::vector<std::string> names = with_beside(section_names(bulk_table));
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
  page.report = {{"What to buy", {"buy", "compare"}}, {"How to look after them", {"policies"}},
                 {"What will be wanted", {"demand"}}, {"Units to swap in", {"units"}},
                 {"What if", {beside_name}},          {"How it was worked out", {"notes", "assumed"}}};
  if (!a.notes.empty() && style.show.empty()) {
    page.closing.push_back({fmt::format(
        "{}: --show notes.", count_text(static_cast<long long>(a.notes.size()), "note", "notes"))});
  }
  page.closing.push_back({fmt::format("mendworth {}.", version())});
  return page_of(std::move(page), style);
}

}  // namespace mendworth
