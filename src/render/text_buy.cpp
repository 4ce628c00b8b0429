#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"
#include "render/page.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {
namespace {

std::string amount_of(const Buying& b, double value) {
  return kept_together(amount_text(value, b.currency, b.minor_digits));
}

std::string cell_of(const Buying& b, double value) { return money_text(value, b.minor_digits); }

// The page of a weighing has these sections as well; they ask for the currency and for what they print.
Weighing as_weighing(const Buying& b) {
  Weighing w;
  w.currency = b.currency;
  w.minor_digits = b.minor_digits;
  w.order = b.order;
  w.order->quantities.clear();  // the ladders say more
  w.cautions = b.cautions;
  w.notes = b.notes;
  return w;
}

// "10 button 6x6 + 1 encoder (Bridge Street Parts); 2 knob (Canal Side Electronics)", supplier by supplier.
std::string lines_text(const BasketAnswer& basket) {
  std::vector<std::string> suppliers;
  for (const OrderLine& line : basket.lines) {
    if (std::find(suppliers.begin(), suppliers.end(), line.supplier) == suppliers.end())
      suppliers.push_back(line.supplier);
  }
  std::string text;
  for (const std::string& supplier : suppliers) {
    if (!text.empty()) text += "; ";
    bool first = true;
    for (const OrderLine& line : basket.lines) {
      if (line.supplier != supplier) continue;
      text += fmt::format("{}{} {}", first ? "" : " + ", line.quantity, line.candidate);
      first = false;
    }
    text += " (" + supplier + ")";
  }
  return text;
}

Table basket_table(const Buying& b) {
  return Table({{"", Table::Align::left},
                {"basket", Table::Align::left, true},
                {"landed\n" + b.currency},
                {"wait\ndays"},
                {"misfit"},
                {"worth\nleft"},
                {"net"},
                {"more"}});
}

void add_basket(Table& table, const Buying& b, const std::string& mark, const BasketAnswer& basket) {
  table.add_row({mark, lines_text(basket), cell_of(b, basket.landed), decimals_text(basket.wait_days, 1),
                 cell_of(b, basket.misfit_cost), cell_of(b, basket.leftover_worth), cell_of(b, basket.net),
                 cell_of(b, basket.more)},
                mark == "*");
}

void head(Page& page, const Buying& b) {
  const BasketAnswer& best = b.baskets.front();
  page.paragraph(fmt::format("Order {}: {} at the doorstep, {}.", lines_text(best), amount_of(b, best.landed),
                             days_text(best.wait_days)),
                 true);
  page.paragraph(
      fmt::format("Net {}: with {} for waiting and {} for a possible misfit, less {} that leftovers are "
                  "worth.",
                  amount_of(b, best.net), amount_of(b, best.wait_cost), amount_of(b, best.misfit_cost),
                  amount_of(b, best.leftover_worth)));
  page.paragraph(b.proved
                     ? std::string("No other basket has a lower net cost.")
                     : fmt::format("A limit stopped the search: a basket may exist that costs less, but none "
                                   "less than {} net.",
                                   amount_of(b, b.bound)));
  page.paragraph(fmt::format("Pieces for: {}.", b.plan));
  if (!b.repair_is_best) {
    page.paragraph(
        fmt::format("Before you order: the repair is not the course of least cost here; that is: {}. "
                    "'mendworth weigh' says by how much.",
                    b.best_course),
        true);
  }
}

void other_baskets(Page& page, const Buying& b) {
  page.heading("Baskets, by net cost (" + b.currency + ")");
  Table table = basket_table(b);
  for (std::size_t i = 0; i < b.baskets.size(); ++i) add_basket(table, b, i == 0 ? "*" : "", b.baskets[i]);
  page.table(table);
  page.paragraph(
      "* best. Net = landed + waiting + misfit - worth of leftovers; each with the quantities that are best "
      "for it.",
      false, 2);
  if (b.one_supplier) {
    page.paragraph(b.one_supplier->more <= 0
                       ? std::string("The best basket comes from one supplier.")
                       : fmt::format("Cheapest from one supplier: {}; {} more.", lines_text(*b.one_supplier),
                                     amount_of(b, b.one_supplier->more)),
                   false, 2);
  } else {
    page.paragraph("No single supplier has all the pieces.", false, 2);
  }
  if (b.faster.empty()) page.paragraph("No basket arrives earlier.", false, 2);
  for (const FasterBasket& fast : b.faster) {
    page.paragraph(
        fmt::format("Sooner, after {}: {}; a day saved costs {}.", days_text(fast.basket.wait_days),
                    lines_text(fast.basket), amount_of(b, fast.cost_per_day)),
        false, 2);
  }
}

// What is bought with the hedge beside, or in place of, what is bought without it.
std::string hedge_words(const HedgeChoice& hedge) {
  if (hedge.alone == hedge.first) return fmt::format("buying {} beside {}", hedge.second, hedge.first);
  if (hedge.alone == hedge.second)
    return fmt::format("buying {} beside {}, to be tried first,", hedge.first, hedge.second);
  return fmt::format("buying {} and {} in place of {}", hedge.first, hedge.second, hedge.alone);
}

void fit(Page& page, const Buying& b) {
  if (b.tries.empty()) return;
  page.heading("Whether they fit");
  for (const TryOrder& tries : b.tries) {
    std::string text = tries.part + ": try";
    for (std::size_t k = 0; k < tries.candidates.size(); ++k) {
      text += fmt::format("{} {} ({}{})", k == 0 ? "" : ", then", tries.candidates[k],
                          k == 0 ? "fits with " : "the first that fits with ", percent(tries.fits[k]));
    }
    page.paragraph(text + ".", false, 2, 2);
  }
  for (const HedgeChoice& hedge : b.hedges) {
    std::string text = fmt::format("{}: {} costs {} and saves {} in expectation: {}.", hedge.part,
                                   hedge_words(hedge), amount_of(b, hedge.costs), amount_of(b, hedge.saves),
                                   hedge.pays ? "it pays" : "it does not pay");
    if (hedge.pays_from) {
      text += fmt::format(" It pays from a misfit chance of {} of {} on; here it is {}.",
                          percent(*hedge.pays_from), hedge.alone, percent(hedge.misfit_chance));
    }
    page.paragraph(text, false, 2, 2);
  }
}

void spares(Page& page, const Buying& b) {
  for (const SpareCurve& curve : b.spares) {
    page.heading(fmt::format("What spares are worth: {} ({})", curve.candidate, b.currency));
    Table table({{"spare"}, {"worth"}, {"without this\nrepair"}, {"chance\nof use"}});
    for (const SpareRow& row : curve.rows) {
      table.add_row({fmt::format("{}", row.spare), cell_of(b, row.worth), cell_of(b, row.used_elsewhere),
                     percent_text(row.used)});
    }
    page.table(table);
    page.paragraph(fmt::format("To buy one when it is needed costs {}, the wait included.",
                               amount_of(b, curve.small_order)),
                   false, 2);
  }
}

void ladders(Page& page, const Buying& b) {
  for (const Ladder& ladder : b.ladders) {
    page.heading(fmt::format("How many: {} ({} needed; {})", ladder.candidate, ladder.needed, b.currency));
    Table table({{"", Table::Align::left},
                 {"pcs"},
                 {"supplier", Table::Align::left, true},
                 {"each"},
                 {"whole\norder"},
                 {"per\npiece"},
                 {"left"},
                 {"used"},
                 {"worth"},
                 {"net"},
                 {"", Table::Align::left, true}});
    for (const LadderRow& row : ladder.rows) {
      const bool foreign = row.supplier_currency != b.currency;
      table.add_row({row.chosen ? "*" : "", fmt::format("{}", row.quantity), row.supplier,
                     (foreign ? row.supplier_currency + " " : "") +
                         unit_price_text(row.each, foreign ? 2 : b.minor_digits),
                     cell_of(b, row.landed), cell_of(b, row.landed_each), fmt::format("{}", row.left_over),
                     decimals_text(row.used, 1), cell_of(b, row.worth), cell_of(b, row.net), row.remark},
                    row.chosen);
    }
    page.table(table);
    page.paragraph(
        "left: pieces beyond the need; used: of them, expected within shelf life; net: the whole order with "
        "waiting and misfit, less what is left is worth.",
        false, 2);
  }
}

void supplier_ranges(Page& page, const Buying& b) {
  if (b.suppliers.empty()) return;
  page.heading("Who is cheapest for how many, ordered alone");
  for (const SupplierComparison& comparison : b.suppliers) {
    std::string text = comparison.candidate + ":";
    for (std::size_t i = 0; i < comparison.ranges.size(); ++i) {
      const SupplierRange& range = comparison.ranges[i];
      text += fmt::format("{} from {} {}", i == 0 ? "" : ",", range.from, range.supplier);
    }
    page.paragraph(text + ".", false, 2, 2);
    for (const auto& rate : comparison.rates) {
      page.paragraph(fmt::format("{} against {}: equal at an exchange rate of {}; it is {}.", rate.supplier,
                                 rate.other, decimals_text(rate.turning, 4), decimals_text(rate.rate, 4)),
                     false, 4, 2);
    }
  }
}

}  // namespace

std::string buying_text(const Buying& b, const TextStyle& style) {
  Page page(style);
  const Weighing w = as_weighing(b);
  if (b.baskets.empty()) {
    page.paragraph("There is nothing to order.", true);
  } else {
    head(page, b);
    order_section(page, w);
    other_baskets(page, b);
    fit(page, b);
    ladders(page, b);
    spares(page, b);
    supplier_ranges(page, b);
  }
  cautions_section(page, w);
  notes_section(page, w);
  page.empty_line();
  page.paragraph(fmt::format("Seed {}, {} futures, mendworth {}.", b.settings.seed,
                             grouped_text(b.settings.futures), version()));
  return page.text();
}

}  // namespace mendworth
