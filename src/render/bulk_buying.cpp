#include "render/bulk_buying.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "base/plain_number.hpp"
#include "render/bulk_charts.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_offer_columns = 5;

const PartDemand& demand_of(const BulkScenario& scenario, const std::string& part) {
  return *std::ranges::find(scenario.demand, part, &PartDemand::part);
}

std::string offer_name(const BulkOffer& offer) {
  return offer.quotation.empty() ? offer.supplier : offer.quotation;
}

std::string left_words(int reorder_point) {
  return reorder_point == 1 ? "1 is" : fmt::format("{} are", reorder_point);
}

std::string best_words(const BulkAnswer& a, const BulkLadder& ladder) {
  const Sums sums = sums_in(a);
  const BulkRow& best = ladder.best;
  if (best.quantity == 0) {
    return fmt::format("* Bought once: best nothing. A missing piece costs {}, an order in advance more.",
                       sums.amount(ladder.shortage_cost));
  }
  return fmt::format(
      "* Bought once: best {}, {}, for {}, in the end {} with ordering, keeping and shortages. A missing "
      "piece is taken to cost {}. Enough with a chance of {}; pieces expected to be written off at the end: "
      "{}.",
      count_text(best.quantity, "piece", "pieces"), bought_of(best.lines), sums.amount(best.landed),
      sums.amount(best.cost), sums.amount(ladder.shortage_cost), percent(best.suffices),
      sums.amount(best.write_off));
}

std::string repeated_words(const BulkAnswer& a, const RepeatedOrders& r, double years) {
  const Sums sums = sums_in(a);
  return fmt::format(
      "Bought again and again: {} at a time, {}, {} orders a year, for {} a year (pieces {}, ordering {}, "
      "keeping {}). Order when {} left: that lasts the lead time of {} with a chance of {}. Over the same "
      "{}: {}.",
      count_text(r.quantity, "piece", "pieces"), bought_of(r.lines), counted(r.orders_per_year),
      sums.amount(r.total), sums.amount(r.purchase), sums.amount(r.ordering), sums.amount(r.carrying),
      left_words(r.reorder_point), days_text(r.lead_days), percent(r.reorder_cover), years_text(years),
      sums.amount(r.cost));
}

// Stock that outlasts what the part keeps.
void say_beyond_shelf_life(Section& section, const BulkAnswer& a, const PartDemand& demand,
                           const BulkLadder& ladder) {
  std::vector<const BulkRow*> rows;
  for (const BulkAsked& asked : ladder.asked) {
    for (const BulkRow& row : ladder.rows) {
      if (row.quantity == asked.instead) rows.push_back(&row);
    }
  }
  rows.push_back(&ladder.best);
  for (const BulkRow* row : rows) {
    if (row->quantity == 0 || row->years_of_stock <= demand.shelf_years) continue;
    section.say(fmt::format(
        "{} last {} at the usual demand, yet '{}' keeps {}: {} are expected to be left then, {} written off.",
        count_text(row->quantity, "piece", "pieces"), years_text(row->years_of_stock), demand.part,
        years_text(demand.shelf_years), counted(row->left_pieces), sums_in(a).amount(row->write_off)));
    break;
  }
}

Table compare_table(const BulkAnswer& a) {
  const Sums sums = sums_in(a);
  Table table;
  table.name = "compare";
  table.columns = {{"demand", false}, {"piece", false}, {"offer", false},  {"best once"},
                   {"landed"},        {"a piece used"}, {"expected cost"}, {"again and again"}};
  for (const BulkScenario& scenario : a.scenarios) {
    for (const BulkOffer& offer : scenario.offers) {
      const BulkRow& best = offer.best;
      table.add({scenario.name, offer.candidate, offer_name(offer), fmt::format("{}", best.quantity),
                 sums.cell(best.landed, best.landed),
                 best.per_used > 0 ? unit_price_text(best.per_used, a.minor_digits) : "-",
                 sums.cell(best.cost, best.cost), offer.again ? sums.cell(*offer.again, *offer.again) : "-"});
    }
  }
  return table;
}

// The offers of one part, the cheapest first.
std::vector<const BulkOffer*> offers_for(const BulkScenario& scenario, const std::string& part) {
  std::vector<const BulkOffer*> offers;
  for (const BulkOffer& offer : scenario.offers) {
    if (offer.part == part) offers.push_back(&offer);
  }
  std::ranges::stable_sort(
      offers, [](const BulkOffer* x, const BulkOffer* y) { return x->best.cost < y->best.cost; });
  return offers;
}

Table offers_table(const BulkAnswer& a, const std::vector<const BulkOffer*>& offers) {
  Table table;
  table.columns = {{"pieces"}};
  const bool several = std::ranges::any_of(
      offers, [&](const BulkOffer* offer) { return offer->candidate != offers.front()->candidate; });
  const std::size_t shown = std::min(offers.size(), most_offer_columns);
  for (std::size_t i = 0; i < shown; ++i)
    table.columns.push_back({(several ? offers[i]->candidate + ", " : "") + offer_name(*offers[i])});
  for (std::size_t row = 0; row < offers.front()->points.size(); ++row) {
    std::vector<std::string> cells{fmt::format("{}", offers.front()->points[row].wanted)};
    for (std::size_t i = 0; i < shown; ++i) {
      const BulkPoint& point = offers[i]->points[row];
      std::string cell = point.quantity > 0 ? unit_price_text(point.per_used, a.minor_digits) : "-";
      if (point.quantity > point.wanted) cell = fmt::format("{} for {}", cell, point.quantity);
      cells.push_back(std::move(cell));
    }
    table.add(std::move(cells));
  }
  return table;
}

std::string best_text(const BulkBest& best) {
  if (best.quantity == 0) return "nothing in advance";
  std::vector<std::string> suppliers;
  for (const BulkBest::Line& line : best.lines) {
    suppliers.push_back(best.lines.size() > 1 ? fmt::format("{} from {}", line.quantity, line.supplier)
                                              : "from " + line.supplier);
  }
  std::string text = fmt::format("{} x {} {}", best.quantity, best.candidate, fmt::join(suppliers, ", "));
  if (!best.quotation.empty()) text += " (" + best.quotation + ")";
  return best.again ? text + ", again and again" : text;
}

}  // namespace

std::string counted(double value) { return decimals_text(value, value < 10 ? 2 : value < 100 ? 1 : 0); }

std::string name_in(const BulkAnswer& a, const std::string& base, const BulkScenario& scenario) {
  return a.scenarios.size() > 1 ? base + " " + scenario.name : base;
}

void say_scenario(Section& section, const BulkAnswer& a, const BulkScenario& scenario) {
  if (a.scenarios.size() > 1) section.say((scenario.fleet ? "Fleet: " : "Shop: ") + scenario.name, true);
}

std::string ladder_name(const BulkLadder& ladder) {
  return part_text(ladder.part, ladder.candidate) +
         (ladder.quotation.empty() ? "" : ", as quoted in " + ladder.quotation);
}

std::string bought_of(const std::vector<BulkLine>& lines) {
  std::string text;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i > 0) text += i + 1 == lines.size() ? " and " : ", ";
    if (lines.size() > 1) text += fmt::format("{} ", lines[i].quantity);
    text += "from " + lines[i].supplier;
  }
  return text;
}

Table ladder_table(const BulkAnswer& a, const BulkLadder& ladder, bool all) {
  const Sums sums = sums_in(a);
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
    const std::string years = row.years_of_stock > 0 ? counted(row.years_of_stock) : "-";
    const std::string pieces = fmt::format("{}", row.quantity);
    std::vector<std::string> cells{pieces, sums.cell(row.landed, row.landed), percent_text(row.suffices),
                                   years, sums.cell(row.cost, row.cost)};
    if (all) {
      cells = {pieces, each, cells[1],
               row.quantity == 0 ? "-" : unit_price_text(row.landed_each, a.minor_digits), cells[2]};
      if (a.until > 0) cells.push_back(percent_text(row.runs_out_by));
      cells.insert(cells.end(), {counted(row.short_pieces), counted(row.left_pieces), years,
                                 sums.cell(row.cost, row.cost)});
    }
    table.add(std::move(cells), row.best ? Table::Role::best : Table::Role::plain, row.best ? "*" : "");
  }
  return table;
}

Section buy_section(const BulkAnswer& a) {
  Section section{"What to buy, " + a.currency};
  for (const BulkScenario& scenario : a.scenarios) {
    say_scenario(section, a, scenario);
    for (const BulkLadder& ladder : scenario.ladders) {
      const PartDemand& demand = demand_of(scenario, ladder.part);
      Table table = ladder_table(a, ladder, true);
      table.caption = ladder_name(ladder);
      table.name = name_in(a, "buy " + ladder_name(ladder), scenario);
      section.add(std::move(table));
      section.add(bulk_ladder_chart(a, name_in(a, "price " + ladder_name(ladder), scenario), ladder,
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
      say_beyond_shelf_life(section, a, demand, ladder);
      if (ladder.repeated) section.say(repeated_words(a, *ladder.repeated, demand.years));
    }
    for (const BulkChoice& choice : scenario.choices) section.say(choice_verdict(a, scenario, choice), true);
  }
  return section;
}

Section compare_section(const BulkAnswer& a) {
  Section section{"Suppliers and quotations, " + a.currency};
  Table table = compare_table(a);
  if (table.rows.empty()) return section;
  section.add(std::move(table));
  section.say(
      "A piece used: what the best single purchase costs delivered, by the pieces expected to be used. Again "
      "and again: over the same time.");
  return section;
}

Section offers_section(const BulkAnswer& a) {
  Section section{"What a piece that is used costs, " + a.currency};
  for (const BulkScenario& scenario : a.scenarios) {
    say_scenario(section, a, scenario);
    for (const PartDemand& demand : scenario.demand) {
      const auto offers = offers_for(scenario, demand.part);
      if (offers.empty()) continue;
      Table table = offers_table(a, offers);
      table.caption = demand.part;
      table.name = name_in(a, "offers " + demand.part, scenario);
      section.add(std::move(table));
      section.add(offers_chart(a, name_in(a, "per-piece " + demand.part, scenario), demand, offers));
      if (offers.size() > most_offer_columns) {
        section.say(fmt::format("The {} cheapest of {} offers; the others are in the chart and in JSON.",
                                most_offer_columns, offers.size()));
      }
    }
  }
  if (section.empty() || a.scenarios.front().offers.empty()) return {section.heading};
  section.say(
      "Delivered, less what is left sells for, by the pieces expected to be used. \"for 50\": the least that "
      "is sold then, or costs no more.");
  return section;
}

Section turns_section(const BulkAnswer& a) {
  Section section{"Where another purchase becomes best"};
  for (const BulkScenario& scenario : a.scenarios) {
    if (scenario.turns.empty()) continue;
    say_scenario(section, a, scenario);
    Table table;
    table.name = name_in(a, "turns", scenario);
    table.columns = {{"what", false}, {"now"}, {"turns at"}, {"then best", false}};
    const bool several = scenario.choices.size() > 1;
    for (const BulkTurn& turn : scenario.turns) {
      table.add({several ? turn.part + ": " + turn.label : turn.label, significant_text(turn.now, 4),
                 significant_text(turn.at, 6), best_text(turn.best)});
    }
    section.add(std::move(table));
  }
  if (section.empty()) return section;
  section.say(
      "The nearest value on either side, from an eighth of today's to eight times, all else as it is. "
      "Several shipping prices of a supplier are changed in proportion.");
  return section;
}

std::string choice_verdict(const BulkAnswer& a, const BulkScenario& scenario, const BulkChoice& choice) {
  const Sums sums = sums_in(a);
  const BulkLadder& ladder = scenario.ladders[choice.ladder];
  const BulkRow& best = ladder.best;
  const std::string period = years_text(choice.years);
  std::string text;
  if (choice.again) {
    const RepeatedOrders& r = *ladder.repeated;
    text = fmt::format("Order {} of {} at a time {}, whenever {} left: {} over {}",
                       count_text(r.quantity, "piece", "pieces"), ladder_name(ladder), bought_of(r.lines),
                       left_words(r.reorder_point), sums.amount(choice.cost), period);
  } else if (best.quantity == 0) {
    text = fmt::format("Buy nothing of {} in advance: {} over {}", ladder_name(ladder),
                       sums.amount(choice.cost), period);
  } else {
    text =
        fmt::format("Buy {} of {} {}: {} delivered, enough for {} with a chance of {}; {} in the end",
                    count_text(best.quantity, "piece", "pieces"), ladder_name(ladder), bought_of(best.lines),
                    sums.amount(best.landed), period, percent(best.suffices), sums.amount(choice.cost));
  }
  if (choice.other) {
    text += fmt::format(", {} less than {}", sums.amount(*choice.other - choice.cost),
                        choice.again ? "buying once" : "ordering again and again");
  }
  return text + ".";
}

}  // namespace mendworth
