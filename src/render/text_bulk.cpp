#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"
#include "render/page.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

std::string amount(const BulkAnswer& a, double value) {
  return kept_together(amount_text(value, a.currency, a.minor_digits));
}

std::string cell(const BulkAnswer& a, double value) {
  return money_text(value, std::abs(value) >= 10'000 ? 0 : a.minor_digits);
}

std::string count(double value) { return decimals_text(value, value < 10 ? 2 : value < 100 ? 1 : 0); }

const char* words_of(Policy policy) {
  switch (policy) {
    case Policy::run_to_failure: return "run to failure";
    case Policy::mates_at_opening: return "all mates at each opening";
    case Policy::campaign: break;
  }
  return "campaign on all now";
}

/// Unit prices often carry more digits than the currency.
std::string each_text(double each) {
  std::string text = money_text(each, 4);
  while (text.ends_with("0") && text.size() - text.find('.') > 3) text.pop_back();
  return text;
}

void demand_section(Page& page, const BulkScenario& scenario) {
  page.heading("What will be wanted");
  Table table({{"part", Table::Align::left, true},
               {"within"},
               {"now"},
               {"expected\nin all"},
               {"5 %"},
               {"50 %"},
               {"95 %"},
               {"a year"}});
  for (const PartDemand& d : scenario.demand) {
    table.add_row({d.part, years_text(d.years), fmt::format("{}", d.now), count(d.mean),
                   fmt::format("{}", d.low), fmt::format("{}", d.median), fmt::format("{}", d.high),
                   count(d.per_year)});
  }
  page.table(table);
  page.paragraph("5 %, 50 %, 95 %: the demand stays at or below that with this chance.", false, 2);
  if (scenario.policies) {
    const FleetPolicies& p = *scenario.policies;
    page.paragraph(
        fmt::format("Failures in the next year: {} expected, {:.0f} to {:.0f} in nine of ten cases.",
                    count(p.failures_next_year), p.failures_low, p.failures_high),
        false, 2);
  }
  if (scenario.demand.empty()) page.paragraph("Nothing: no position of the case has failed.", false, 2);
}

/// "from one"; "30 from one and 20 from another".
std::string bought_of(const std::vector<BulkLine>& lines) {
  std::string text;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i > 0) text += i + 1 == lines.size() ? " and " : ", ";
    if (lines.size() > 1) text += fmt::format("{} ", lines[i].quantity);
    text += "from " + lines[i].supplier;
  }
  return text;
}

std::string ladder_name(const BulkLadder& ladder) {
  std::string name =
      ladder.part == ladder.candidate ? ladder.part : fmt::format("{}: {}", ladder.part, ladder.candidate);
  if (!ladder.quotation.empty()) name += fmt::format(", as quoted in {}", ladder.quotation);
  return name;
}

void write_rows(Page& page, const BulkAnswer& a, const BulkLadder& ladder) {
  const bool foreign = std::any_of(ladder.rows.begin(), ladder.rows.end(), [&](const BulkRow& row) {
    return row.lines.size() == 1 && row.lines.front().currency != a.currency;
  });
  std::vector<Table::Column> columns = {
      {"", Table::Align::left}, {"pieces"},        {"each"},          {"landed"},
      {"landed\neach"},         {"enough"},        {"short\npieces"}, {"left\npieces"},
      {"years\nof stock"},      {"expected\ncost"}};
  if (a.until > 0) columns.insert(columns.begin() + 6, {"out in\n" + years_text(a.until)});
  Table table(columns);
  for (const BulkRow& row : ladder.rows) {
    // Where the order is divided, a piece has several prices.
    std::string each = row.lines.size() == 1 ? each_text(row.lines.front().each) : "-";
    if (foreign && row.lines.size() == 1) each.insert(0, row.lines.front().currency + " ");
    std::vector<std::string> cells = {row.best ? "*" : "",
                                      fmt::format("{}", row.quantity),
                                      each,
                                      cell(a, row.landed),
                                      row.quantity == 0 ? "-" : each_text(row.landed_each),
                                      percent_text(row.suffices),
                                      count(row.short_pieces),
                                      count(row.left_pieces),
                                      row.years_of_stock > 0 ? count(row.years_of_stock) : "-",
                                      cell(a, row.cost)};
    if (a.until > 0) cells.insert(cells.begin() + 6, percent_text(row.runs_out_by));
    table.add_row(std::move(cells), row.best);
  }
  page.table(table);
}

void write_asked(Page& page, const BulkLadder& ladder) {
  for (const BulkAsked& asked : ladder.asked) {
    if (asked.instead > asked.pieces) {
      page.paragraph(fmt::format("{} asked about: {} cost no more.",
                                 count_text(asked.pieces, "piece", "pieces"), asked.instead),
                     false, 2, 2);
    }
  }
  if (ladder.most)
    page.paragraph(
        fmt::format("The offers have {} between them.", count_text(*ladder.most, "piece", "pieces")), false,
        2, 2);
}

void write_best(Page& page, const BulkAnswer& a, const BulkLadder& ladder) {
  const BulkRow& best = ladder.best;
  if (best.quantity == 0) {
    page.paragraph(
        fmt::format("* Bought once: best nothing. A missing piece costs {}, an order in advance more.",
                    amount(a, ladder.shortage_cost)),
        false, 2, 2);
    return;
  }
  page.paragraph(
      fmt::format(
          "* Bought once: best {}, {}, for {}. A missing piece is taken to cost {}. Enough with a chance "
          "of {}; pieces expected to be written off at the end: {}.",
          count_text(best.quantity, "piece", "pieces"), bought_of(best.lines), amount(a, best.landed),
          amount(a, ladder.shortage_cost), percent(best.suffices), amount(a, best.write_off)),
      false, 2, 2);
}

void write_repeated(Page& page, const BulkAnswer& a, const BulkLadder& ladder) {
  if (!ladder.repeated) return;
  const RepeatedOrders& r = *ladder.repeated;
  page.paragraph(
      fmt::format(
          "Bought again and again: {} at a time, {}, {} orders a year, for {} a year (pieces {}, "
          "ordering {}, keeping {}). Order when {} left: that lasts the lead time of {} with a chance of {}.",
          count_text(r.quantity, "piece", "pieces"), bought_of(r.lines), count(r.orders_per_year),
          amount(a, r.total), amount(a, r.purchase), amount(a, r.ordering), amount(a, r.carrying),
          r.reorder_point == 1 ? "1 is" : fmt::format("{} are", r.reorder_point), days_text(r.lead_days),
          percent(r.reorder_cover)),
      false, 2, 2);
}

void ladder_section(Page& page, const BulkAnswer& a, const BulkScenario& scenario) {
  if (scenario.ladders.empty()) return;
  page.heading("What to buy, " + a.currency);
  bool first = true;
  for (const BulkLadder& ladder : scenario.ladders) {
    if (!first) page.empty_line();
    first = false;
    page.paragraph(ladder_name(ladder), true, 2);
    write_rows(page, a, ladder);
    write_asked(page, ladder);
    write_best(page, a, ladder);
    write_repeated(page, a, ladder);
  }
}

void swap_out_section(Page& page, const BulkScenario& scenario, double cover) {
  const SwapOut& s = scenario.swap_out;
  page.heading("Units to swap in");
  page.paragraph(fmt::format("{} a week come in and are back after {}: {} away at a time.", count(s.per_week),
                             days_text(s.repair_days), count(s.mean_away)),
                 false, 2);
  Table table({{"", Table::Align::left},
               {"units"},
               {"no place\nwithout one"},
               {"one at hand\nfor the next"},
               {"places without\non average"}});
  for (const SwapOutRow& row : s.rows) {
    table.add_row({row.chosen ? "*" : "", fmt::format("{}", row.units), percent_text(row.cover),
                   percent_text(row.at_hand), decimals_text(row.short_units, 3)},
                  row.chosen);
  }
  page.table(table);
  page.paragraph(
      fmt::format("* the fewest with which no place is without a unit, {} of the time.", percent(cover)),
      false, 2, 2);
}

std::string turn_text(const PolicyTurn& turn) {
  return kept_together(
      fmt::format("{} +/- {}", decimals_text(turn.shape, 2), decimals_text(std::max(turn.error, 0.01), 2)));
}

void write_turns(Page& page, const FleetPolicies& p) {
  std::string text = fmt::format(
      "With all Weibull shapes changed in proportion, that of '{}' from {} to {} (now {}): ", p.shape_part,
      decimals_text(p.shape_low, 2), decimals_text(p.shape_high, 2), decimals_text(p.shape_now, 2));
  if (p.turns.empty()) {
    text += fmt::format("'{}' is cheapest throughout.", words_of(p.at_low));
  } else {
    for (const PolicyTurn& turn : p.turns)
      text += fmt::format("up to {} '{}', ", turn_text(turn), words_of(turn.below));
    text += fmt::format("from there '{}'.", words_of(p.turns.back().above));
  }
  page.paragraph(text, false, 2, 2);
}

/// What cannot be told from the cheapest, and what cannot be done.
void write_reservations(Page& page, const BulkAnswer& a, const FleetPolicies& p) {
  for (const PolicyCost& cost : p.policies) {
    if (!cost.can_be_done) {
      page.paragraph(
          fmt::format("'{}' cannot be done now: it wants more pieces at once than the offers have.",
                      words_of(cost.policy)),
          false, 2, 2);
    } else if (cost.equal) {
      page.paragraph(fmt::format("= '{}' costs as much as the cheapest within the error: {} more, +/- {}.",
                                 words_of(cost.policy), amount(a, cost.more), amount(a, cost.more_error)),
                     false, 2, 2);
    }
  }
}

void policy_section(Page& page, const BulkAnswer& a, const BulkScenario& scenario) {
  if (!scenario.policies) return;
  const FleetPolicies& p = *scenario.policies;
  page.heading(fmt::format("How to look after them for {}, {}", years_text(p.years), a.currency));
  Table table({{"", Table::Align::left},
               {"policy", Table::Align::left, true},
               {"openings"},
               {"pieces"},
               {"work"},
               {"parts"},
               {"damage"},
               {"down"},
               {"in all"},
               {"+/-"}});
  for (const PolicyCost& cost : p.policies) {
    table.add_row({cost.cheapest      ? "*"
                   : cost.equal       ? "="
                   : cost.can_be_done ? ""
                                      : "x",
                   words_of(cost.policy), count(cost.openings), count(cost.pieces), cell(a, cost.labour),
                   cell(a, cost.parts), cell(a, cost.risk), cell(a, cost.downtime), cell(a, cost.total),
                   cell(a, cost.error)},
                  cost.cheapest);
  }
  page.table(table);
  page.paragraph(
      "Failed devices are opened now in any case. A campaign is done while nobody misses the devices. Damage "
      "includes consumables and devices lost. +/-: standard error over the futures; all policies meet the "
      "same "
      "ones, so their differences are known better.",
      false, 2);
  write_reservations(page, a, p);
  const bool any = std::any_of(p.policies.begin(), p.policies.end(),
                               [](const PolicyCost& cost) { return cost.can_be_done; });
  if (any) write_turns(page, p);
}

void notes_section(Page& page, const BulkAnswer& a) {
  page.heading("Notes");
  for (const std::string& note : a.notes) page.item(note);
  if (a.defaults.empty()) return;
  page.heading("Defaults");
  std::vector<std::string> sources;
  for (const BulkDefault& used : a.defaults) {
    if (std::find(sources.begin(), sources.end(), used.source) == sources.end())
      sources.push_back(used.source);
  }
  for (const std::string& source : sources) {
    page.paragraph("From: " + source, false, 2, 2);
    for (const BulkDefault& used : a.defaults) {
      if (used.source == source) page.paragraph(used.key + " = " + used.value, false, 4, 2);
    }
  }
}

std::string best_text(const BulkAnswer& a, const BulkLadder& ladder) {
  if (ladder.best.quantity == 0) return "nothing";
  return fmt::format("{} for {}", ladder.best.quantity, money_text(ladder.best.landed, a.minor_digits));
}

/// Several demands or quotations side by side.
void comparison_section(Page& page, const BulkAnswer& a) {
  const bool quoted = std::any_of(a.scenarios.front().ladders.begin(), a.scenarios.front().ladders.end(),
                                  [](const BulkLadder& l) { return !l.quotation.empty(); });
  if (a.scenarios.size() < 2 && !quoted) return;
  page.heading("Side by side, " + a.currency);
  Table table({{"demand", Table::Align::left, true},
               {"piece", Table::Align::left, true},
               {"offer", Table::Align::left, true},
               {"best\nbought once"},
               {"expected\ncost"},
               {"again and\nagain, a year"}});
  for (const BulkScenario& scenario : a.scenarios) {
    for (const BulkLadder& ladder : scenario.ladders) {
      table.add_row({scenario.name, ladder.candidate,
                     ladder.quotation.empty() ? "the case's" : ladder.quotation, best_text(a, ladder),
                     cell(a, ladder.best.cost), ladder.repeated ? cell(a, ladder.repeated->total) : "-"});
    }
  }
  page.table(table);
}

}  // namespace

std::string bulk_text(const BulkAnswer& a, const TextStyle& style) {
  Page page(style);
  page.paragraph(a.device, true);
  comparison_section(page, a);
  for (const BulkScenario& scenario : a.scenarios) {
    page.empty_line();
    page.paragraph((scenario.fleet ? "Fleet: " : "Shop: ") + scenario.name, true);
    demand_section(page, scenario);
    ladder_section(page, a, scenario);
    swap_out_section(page, scenario, a.cover);
    policy_section(page, a, scenario);
  }
  notes_section(page, a);
  page.empty_line();
  page.paragraph(fmt::format("mendworth {}.", version()));
  return page.text();
}

}  // namespace mendworth
