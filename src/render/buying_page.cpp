#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/beside.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {
namespace {

constexpr std::size_t short_baskets = 3;

Sums sums_of(const Buying& b) { return {b.currency, b.minor_digits}; }

// "10 button 6x6 + 1 encoder (Bridge Street Parts); 2 knob (Canal Side Electronics)", supplier by supplier.
std::string lines_text(const BasketAnswer& basket) {
  std::vector<std::string> suppliers;
  for (const OrderLine& line : basket.lines) {
    if (std::ranges::find(suppliers, line.supplier) == suppliers.end()) suppliers.push_back(line.supplier);
  }
  std::string text;
  for (const std::string& supplier : suppliers) {
    std::vector<std::string> pieces;
    for (const OrderLine& line : basket.lines) {
      if (line.supplier == supplier) pieces.push_back(fmt::format("{} {}", line.quantity, line.candidate));
    }
    text += fmt::format("{}{} ({})", text.empty() ? "" : "; ", fmt::join(pieces, " + "), supplier);
  }
  return text;
}

Table baskets_table(const Buying& b, const char* name, std::size_t most) {
  const Sums sums = sums_of(b);
  Table table{
      .columns =
          {{"basket", false}, {"landed"}, {"wait days"}, {"misfit"}, {"saved later"}, {"net"}, {"more"}},
      .name = name,
      .fewest = 2};
  for (std::size_t i = 0; i < std::min(most, b.baskets.size()); ++i) {
    const BasketAnswer& basket = b.baskets[i];
    table.add({lines_text(basket), sums.cell(basket.landed), decimals_text(basket.wait_days, 1),
               sums.cell(basket.misfit_cost), sums.cell(basket.leftover_worth), sums.cell(basket.net),
               sums.cell(basket.more)},
              i == 0 ? Table::Role::best : Table::Role::plain, i == 0 ? "*" : "");
  }
  return table;
}

std::vector<DocumentBlock> opening_of(const Buying& b) {
  if (b.baskets.empty()) return {Paragraph{"There is nothing to order.", true}};
  const Sums sums = sums_of(b);
  const BasketAnswer& best = b.baskets.front();
  std::vector<DocumentBlock> blocks;
  blocks.emplace_back(Paragraph{fmt::format("Order {}: {} at the doorstep, {}.", lines_text(best),
                                            sums.amount(best.landed), days_text(best.wait_days)),
                                true});
  if (!b.repair_is_best) {
    blocks.emplace_back(Paragraph{fmt::format("Before you order: the repair is not the course of least cost "
                                              "here; that is: {}. 'mendworth weigh' says by how much.",
                                              b.best_course),
                                  true});
  }
  blocks.emplace_back(Paragraph{fmt::format(
      "Net {}: with {} for waiting and {} for a possible misfit, less {} that leftovers save against buying "
      "singly when a piece is wanted.",
      sums.amount(best.net), sums.amount(best.wait_cost), sums.amount(best.misfit_cost),
      sums.amount(best.leftover_worth))});
  blocks.emplace_back(Paragraph{
      (b.proved
           ? std::string("No other basket has a lower net cost.")
           : fmt::format(
                 "A limit stopped the search: a basket may exist that costs less, but none less than {} net.",
                 sums.amount(b.bound))) +
      fmt::format(" Pieces for: {}.", b.plan)});
  return blocks;
}

void say_one_supplier(Section& section, const Buying& b) {
  if (!b.one_supplier) {
    section.say("No single supplier has all the pieces.");
  } else if (b.one_supplier->more <= 0) {
    section.say("The best basket comes from one supplier.");
  } else {
    section.say(fmt::format("Cheapest from one supplier: {}; {} more.", lines_text(*b.one_supplier),
                            sums_of(b).amount(b.one_supplier->more)));
  }
}

void say_faster(Section& section, const Buying& b, std::size_t most) {
  if (b.faster.empty()) section.say("No basket arrives earlier.");
  for (std::size_t i = 0; i < std::min(most, b.faster.size()); ++i) {
    const FasterBasket& fast = b.faster[i];
    section.say(fmt::format("Sooner, after {}: {}; a day saved costs {}.", days_text(fast.basket.wait_days),
                            lines_text(fast.basket), sums_of(b).amount(fast.cost_per_day)));
  }
}

Section order_of_purchase(const Buying& b) {
  if (b.baskets.empty()) return {"What to order"};
  OrderAnswer order = b.order;
  order.quantities.clear();  // the ladders say more
  return order_section(order, sums_of(b));
}

Section baskets_section(const Buying& b) {
  Section section{"Baskets, by net cost (" + b.currency + ")"};
  section.add(baskets_table(b, "baskets", b.baskets.size()));
  if (section.empty()) return section;
  section.say(
      "* best. Net = landed + waiting + misfit - saved later, which is what leftovers save against buying "
      "singly "
      "when a piece is wanted; each with the quantities that are best for it.");
  say_one_supplier(section, b);
  say_faster(section, b, b.faster.size());
  return section;
}

// What is bought with the hedge beside, or in place of, what is bought without it.
std::string beside_words(const HedgeChoice& hedge) {
  if (hedge.alone == hedge.first) return fmt::format("buying {} beside {}", hedge.second, hedge.first);
  if (hedge.alone == hedge.second)
    return fmt::format("buying {} beside {}, to be tried first,", hedge.first, hedge.second);
  return fmt::format("buying {} and {} in place of {}", hedge.first, hedge.second, hedge.alone);
}

void say_tries(Section& section, const Buying& b) {
  for (const TryOrder& tries : b.tries) {
    std::string text = tries.part + ": try";
    for (std::size_t k = 0; k < tries.candidates.size(); ++k) {
      text += fmt::format("{} {} ({}{})", k == 0 ? "" : ", then", tries.candidates[k],
                          k == 0 ? "fits with " : "the first that fits with ", percent(tries.fits[k]));
    }
    section.say(text + ".");
  }
}

Section fit_section(const Buying& b) {
  Section section{"Whether they fit"};
  if (b.tries.empty()) return section;
  const Sums sums = sums_of(b);
  say_tries(section, b);
  for (const HedgeChoice& hedge : b.hedges) {
    std::string text = fmt::format("{}: {} costs {} and saves {} in expectation: {}.", hedge.part,
                                   beside_words(hedge), sums.amount(hedge.costs), sums.amount(hedge.saves),
                                   hedge.pays ? "it pays" : "it does not pay");
    if (hedge.pays_from) {
      text += fmt::format(" It pays from a misfit chance of {} of {} on; here it is {}.",
                          percent(*hedge.pays_from), hedge.alone, percent(hedge.misfit_chance));
    }
    section.say(text);
  }
  return section;
}

// Against the quantity: the whole order, or per piece.
Chart ladder_chart(const Buying& b, const Ladder& ladder, bool per_piece) {
  Chart chart;
  if (ladder.rows.size() < 3) return chart;
  chart.name = (per_piece ? "price-each " : "price ") + ladder.candidate;
  chart.title = fmt::format("{}: what {} costs, by how many are bought", ladder.candidate,
                            per_piece ? "a piece" : "the order");
  chart.x = {.name = "pieces bought", .whole = true};
  chart.y = {.name = per_piece ? "cost per piece" : "cost",
             .unit = b.currency,
             .digits = b.minor_digits,
             .reach = {0}};
  std::vector<const LadderRow*> rows;
  for (const LadderRow& row : ladder.rows) rows.push_back(&row);
  std::ranges::stable_sort(rows,
                           [](const LadderRow* a, const LadderRow* c) { return a->quantity < c->quantity; });
  constexpr int wide = 12;  // times the least: beyond, the first steps would be too close together
  if (rows.back()->quantity > wide * rows.front()->quantity) chart.x.scale = ChartAxis::Scale::logarithmic;
  using Mark = ChartSeries::Mark;
  chart.series = {{.name = per_piece ? "landed, per piece bought" : "landed", .mark = Mark::dotted},
                  {.name = per_piece ? "net, per piece needed" : "net", .mark = Mark::dotted}};
  if (per_piece) chart.series.push_back({.name = "landed, per piece used", .mark = Mark::dotted});
  for (const LadderRow* row : rows) {
    const double pieces = row->quantity;
    chart.series[0].points.push_back({pieces, per_piece ? row->landed_each : row->landed});
    chart.series[1].points.push_back({pieces, per_piece ? row->net / ladder.needed : row->net});
    if (per_piece) chart.series[2].points.push_back({pieces, row->landed / (ladder.needed + row->used)});
    if (!row->chosen) continue;
    chart.marks.push_back({pieces, fmt::format("best: {}", row->quantity)});
  }
  chart.description = fmt::format(
      "{} needed. Net: with waiting and misfit, less what the pieces left over are worth. Pieces used: those "
      "needed, and of the others those expected to be used while they keep.",
      count_text(ladder.needed, "piece is", "pieces are"));
  return chart;
}

Section quantities_section(const Buying& b) {
  Section section{fmt::format("How many ({})", b.currency)};
  const Sums sums = sums_of(b);
  for (const Ladder& ladder : b.ladders) {
    Table table{.caption = fmt::format("How many: {} ({} needed)", ladder.candidate, ladder.needed),
                .columns = {{"pieces"},
                            {"supplier", false},
                            {"each"},
                            {"whole order"},
                            {"per piece"},
                            {"left"},
                            {"used"},
                            {"worth"},
                            {"net"}},
                .name = "quantities " + ladder.candidate};
    const bool remarks =
        std::ranges::any_of(ladder.rows, [](const LadderRow& row) { return !row.remark.empty(); });
    if (remarks) table.columns.push_back({"remark", false});
    for (const LadderRow& row : ladder.rows) {
      std::vector<std::string> cells{fmt::format("{}", row.quantity),
                                     row.supplier,
                                     sums.each(row.each, row.supplier_currency),
                                     sums.cell(row.landed),
                                     sums.cell(row.landed_each),
                                     fmt::format("{}", row.left_over),
                                     decimals_text(row.used, 1),
                                     sums.cell(row.worth),
                                     sums.cell(row.net)};
      if (remarks) cells.push_back(row.remark);
      table.add(cells, row.chosen ? Table::Role::best : Table::Role::plain, row.chosen ? "*" : "");
    }
    section.add(std::move(table));
    section.add(ladder_chart(b, ladder, false));
    section.add(ladder_chart(b, ladder, true));
  }
  if (!section.empty()) {
    section.say(
        "left: pieces beyond the need; used: of them, expected within shelf life; net: the whole order with "
        "waiting and misfit, less what is left is worth.");
  }
  return section;
}

Section spares_section(const Buying& b) {
  Section section{fmt::format("What spares are worth ({})", b.currency)};
  const Sums sums = sums_of(b);
  for (const SpareCurve& curve : b.spares) {
    Table table{.caption = fmt::format("{}: to buy one when it is needed costs {}, the wait included",
                                       curve.candidate, sums.amount(curve.small_order)),
                .columns = {{"spare"}, {"worth"}, {"without this repair"}, {"pieces used"}},
                .name = "spares " + curve.candidate};
    for (const SpareRow& row : curve.rows) {
      table.add({fmt::format("{}", row.spare), sums.cell(row.worth), sums.cell(row.used_elsewhere),
                 fmt::format("{:.2f}", row.used)});
    }
    section.add(std::move(table));
  }
  return section;
}

Section suppliers_section(const Buying& b) {
  Section section{"Who is cheapest for how many, ordered alone"};
  for (const SupplierComparison& comparison : b.suppliers) {
    std::vector<std::string> ranges;
    for (const SupplierRange& range : comparison.ranges)
      ranges.push_back(fmt::format("from {} {}", range.from, range.supplier));
    section.say(fmt::format("{}: {}.", comparison.candidate, fmt::join(ranges, ", ")));
    std::vector<std::string> rates;
    for (const auto& rate : comparison.rates) {
      rates.push_back(fmt::format("{} against {}: equal at an exchange rate of {}; it is {}.", rate.supplier,
                                  rate.other, decimals_text(rate.turning, 4), decimals_text(rate.rate, 4)));
    }
    section.list(std::move(rates));
  }
  return section;
}

Section hazards_of_purchase(const Buying& b) { return hazards_section(b.cautions); }
Section notes_of_purchase(const Buying& b) { return notes_section(b.notes); }

constexpr SectionOf<Buying> buying_table[] = {
    {"order", order_of_purchase},       {"baskets", baskets_section}, {"fit", fit_section},
    {"quantities", quantities_section}, {"spares", spares_section},   {"suppliers", suppliers_section},
    {"hazards", hazards_of_purchase},   {"notes", notes_of_purchase}};

Section short_purchase(const Buying& b) {
  Section section{b.baskets.empty() ? "" : fmt::format("The best baskets ({})", b.currency)};
  section.add(baskets_table(b, "baskets-short", short_baskets));
  if (!b.baskets.empty()) {
    say_one_supplier(section, b);
    say_faster(section, b, 1);
    say_tries(section, b);
  }
  for (const std::string& warning : b.order.warnings) section.say(warning);
  section.say(hazards_line(b.cautions));
  for (const std::string& note : b.notes) section.say("Note: " + note);
  return section;
}

}  // namespace

const std::vector<std::string>& buying_sections() {
  static const std::vector<std::string> names = with_beside(section_names<buying_table>());
  return names;
}

std::string buying_page(const Buying& b, const PageStyle& style) {
  return compared_page(Compared<Buying>{b, {}}, style);
}

std::string compared_page(const Compared<Buying>& all, const PageStyle& style) {
  const Buying& b = all.answer;
  Document page = answer_document("What to order: " + b.device);
  page.opening = opening_of(b);
  page.sections = sections_of(b, buying_table);
  page.sections.push_back(beside_buying(all, stars_in(style)));
  page.first_screen = {short_purchase(b), page.sections.back()};
  page.report = {{"What to order", {"order"}},
                 {"The baskets side by side", {"baskets", "suppliers"}},
                 {"Quantities and spares", {"quantities", "spares"}},
                 {"What if", {beside_name}},
                 {"Does it fit", {"fit"}},
                 {"Notes and cautions", {"notes", "hazards"}}};
  page.closing.push_back(
      {fmt::format("Seed {}, {} futures, mendworth {}.", b.settings.seed, b.settings.futures, version())});
  return page_of(std::move(page), style);
}

}  // namespace mendworth
